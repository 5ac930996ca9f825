"""What comes from the terminal, where that is not what a terminal should send."""

import sys

from textual.driver import Driver


def patient(driver: type[Driver]) -> type[Driver]:
    """The toolkit's driver, which goes on after bytes that are no text: a key of an old keyboard, a torn signal.

    The toolkit's own ends the app at the first of them. What came with them in one piece is passed over too.
    """
    if sys.platform == "win32":  # there the console hands over keys, not bytes
        return driver
    from textual.drivers.linux_driver import LinuxDriver

    if driver is not LinuxDriver:
        return driver

    class PatientDriver(LinuxDriver):
        """Begins to read anew where nothing can be made of what came."""

        def run_input_thread(self) -> None:
            """Keys and mouse, until the app ends."""
            while True:
                try:
                    return super().run_input_thread()
                except (ValueError, OverflowError):  # no UTF-8, or the number of no character
                    continue

    return PatientDriver
