"""Files read without a surprise and written whole: what saves, lessons, settings and prints have in common."""

import errno
import os
import re
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path


class FileFault(Exception):
    """A file that cannot be read or written. ``str()`` says why, without the name of the file."""


class AlreadyThere(FileFault):
    """A file that was to be made new, and somebody else has made it."""


class DiskFull(FileFault):
    """A file that has no room on the disk."""


# ── reading ──────────────────────────────────────────────────────────────────────────────────────────


def read_text(path: Path, largest_bytes: int) -> str:
    """The text of an ordinary file; anything else is refused before it is opened. Raises FileFault."""
    try:
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            raise FileFault("is a folder, not a file")
        if not stat.S_ISREG(found.st_mode):
            raise FileFault("isn't an ordinary file")
        if found.st_size > largest_bytes:
            raise FileFault(f"is far too large: {found.st_size:,} bytes. At most {largest_bytes:,} are read")
        with path.open("rb") as file:
            return file.read(largest_bytes + 1).decode("utf-8-sig")
    except FileNotFoundError:
        raise FileFault(
            "is a link to a file that isn't there" if path.is_symlink() else "there's no such file"
        ) from None
    except UnicodeDecodeError as error:
        raise FileFault(f"isn't UTF-8 text (byte {error.start})") from None
    except ValueError:
        raise FileFault("isn't a file name") from None
    except OSError as error:
        raise FileFault(f"can't be read: {error.strerror or error}") from None


def time_of(seconds: float) -> datetime | None:
    """The local time of so many seconds since 1970; None beyond what a calendar holds."""
    try:
        return datetime.fromtimestamp(seconds)
    except (OverflowError, OSError, ValueError):
        return None


def changed(path: Path) -> datetime | None:
    """When a file was last changed; None where that cannot be told."""
    try:
        return time_of(path.stat().st_mtime)
    except (OSError, ValueError):
        return None


def mark_of(path: Path) -> tuple[int, ...] | None:
    """What tells whether a file is still the one that was read: its place on the disk, its size, its time."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns)


def is_ours_to_read(path: Path) -> bool:
    """Whether there is an ordinary file that this user may read, whatever it holds."""
    try:
        return stat.S_ISREG(path.stat().st_mode) and may(path, os.R_OK)
    except (OSError, ValueError):
        return False


def may(path: Path, what: int) -> bool:
    """Whether this user may read or write a file (``os.R_OK``, ``os.W_OK``), by the rights that count at that."""
    return os.access(path, what, effective_ids=os.access in os.supports_effective_ids)


def has_other_names(path: Path) -> bool:
    """Whether the same file stands under another name too (a hard link): it goes its own way once this is written."""
    try:
        return path.stat().st_nlink > 1
    except OSError:
        return False


# ── writing ──────────────────────────────────────────────────────────────────────────────────────────

PART = re.compile(r"\.(.+-)?[a-z0-9_]{8}\.part")
"""Names of files that are being written."""

OLD_SECONDS = 3600.0
"""After an hour nobody is still writing a file of a few kilobytes."""


def write(path: Path, text: str, *, new: bool = False, make_folder: bool = True, at_once: bool = True) -> None:
    """Write a file so that it is at every moment the old one or the new one, also after a power cut.

    ``new``: only where there is no file of that name. ``make_folder``: with the folder for it.
    ``at_once``: it is on the disk when this is done. Raises AlreadyThere, or FileFault.
    """
    import tempfile  # nothing is written before the first paint

    try:
        real = Path(os.path.realpath(path))
        if make_folder:
            real.parent.mkdir(parents=True, exist_ok=True)
        mode = _mode_of(real)
        handle, temporary = tempfile.mkstemp(prefix=f".{real.name[:40]}-", suffix=".part", dir=real.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                if at_once:
                    os.fsync(file.fileno())
            Path(temporary).chmod(mode)
            if new:
                _named_first(Path(temporary), real)
            else:
                Path(temporary).replace(real)
        finally:
            Path(temporary).unlink(missing_ok=True)
        if at_once:
            _keep_name(real.parent)
    except ValueError:
        raise FileFault("isn't a file name") from None
    except OSError as error:
        kind = DiskFull if error.errno in (errno.ENOSPC, errno.EDQUOT) else FileFault
        raise kind(f"can't be written: {error.strerror or error}") from error


def _named_first(temporary: Path, real: Path) -> None:
    """Give a file its name, if nobody was quicker. Raises AlreadyThere."""
    try:
        try:
            real.hardlink_to(temporary)
        except FileExistsError:
            raise
        except (OSError, NotImplementedError):  # a disk without hard links: taken empty, then filled
            os.close(os.open(real, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            temporary.replace(real)
    except FileExistsError:
        raise AlreadyThere("there's already a file of that name") from None


def _keep_name(folder: Path) -> None:
    """Have the disk keep the name too: without this a power cut may bring the old file back."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:  # some shared folders cannot; the file itself is on the disk
        pass
    finally:
        os.close(handle)


def _mode_of(path: Path) -> int:
    """The permissions of the file that is replaced; for a new one what the user's umask says. Raises FileFault."""
    try:
        found = path.stat()
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
    if not stat.S_ISREG(found.st_mode):
        raise FileFault("isn't an ordinary file, so it's left as it is")
    if not found.st_mode & 0o222 or not may(path, os.W_OK):  # root may write what is marked as read-only
        raise FileFault("is read-only, so it's left as it is")
    return stat.S_IMODE(found.st_mode) & 0o777


@contextmanager
def aside(path: Path) -> Iterator[Path | None]:
    """Keep what a file holds beside it, as ``NAME.broken``, while it is written again; None where it holds nothing.

    Whoever is still writing the old one goes on in that. If the writing fails, all is as it was. Raises FileFault.
    """
    real = Path(os.path.realpath(path))
    try:
        kept = _other_name(real) if real.stat().st_size else None
    except OSError as error:
        raise FileFault(f"can't be renamed: {error.strerror or error}") from error
    try:
        yield kept
    except BaseException:
        if kept is not None:
            if os.path.lexists(real):
                kept.unlink()
            else:
                kept.rename(real)
        raise


def _other_name(real: Path) -> Path:
    """The same file under a name that nobody has; on a disk without hard links it loses its own."""
    number = 1
    while True:
        kept = real.with_name(f"{real.name}.broken" + (f"-{number}" if number > 1 else ""))
        number += 1
        if os.path.lexists(kept):
            continue
        try:
            kept.hardlink_to(real)
        except FileExistsError:
            continue
        except (OSError, NotImplementedError):
            real.rename(kept)
        return kept


@contextmanager
def alone_in(path: Path) -> Iterator[None]:
    """Look at a file and write it without another workshop writing it in between; that one waits a moment."""
    try:
        import fcntl

        handle = os.open(Path(os.path.realpath(path)).parent, os.O_RDONLY)
    except (ImportError, OSError):  # not here: what is left of the danger is a few thousandths of a second
        yield
        return
    try:
        for _ in range(200):  # one who holds it and was stopped does not hold us for ever
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                time.sleep(0.01)
                continue
            except OSError:
                pass
            break
        yield
    finally:
        os.close(handle)


def sweep(folder: Path) -> None:
    """Clear away what was left half written by a workshop that was killed, once it is old."""
    try:
        with os.scandir(folder) as found:
            for entry in found:
                ours = PART.fullmatch(entry.name) and entry.is_file(follow_symlinks=False)
                if ours and time.time() - entry.stat(follow_symlinks=False).st_mtime > OLD_SECONDS:
                    Path(entry.path).unlink(missing_ok=True)
    except OSError:  # nothing depends on it
        return
