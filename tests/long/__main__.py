"""``python -m tests.long mutants|kills|two|bursts [TIMES] [SEED]``: what the tests do a little of, for as long as one likes."""

import sys
import tempfile
from pathlib import Path

from tests.long import mutants, writers


def main(what: str, times: int, seed: int) -> int:
    """One long run. Gives 1 where something was found."""
    if what == "mutants":
        keep = Path(tempfile.gettempdir()) / "workshop-mutants"
        keep.mkdir(exist_ok=True)
        found = mutants.run(times, seed, keep)
        print(f"{found.tried} mutants, {found.sound} sound TOML, {found.taken} still projects")
        print(f"those that made trouble are in {keep}; slowest: {found.slowest[0]:.2f} s ({found.slowest[1]})")
        faults = found.faults
    elif what == "bursts":
        from tests.long import bursts

        windows, faults = bursts.bursts(times, seed, tell=True)
        print(f"{times} bursts in {windows} windows")
    else:
        taken, faults = {"kills": writers.kills, "two": writers.two}[what](times, seed)
        print(f"{times} times, {taken} answers taken")
    print(*faults[:40], sep="\n")
    print(f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    given = dict(enumerate(sys.argv[1:]))
    sys.exit(main(given[0], int(given.get(1, 100)), int(given.get(2, 1))))
