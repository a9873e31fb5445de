"""Files that other programs may write at the same time, and that outlive a power cut: locked, replaced, added to."""

from __future__ import annotations

import errno
import os
import tempfile
import time
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

fcntl: Any
msvcrt: Any
try:
    import fcntl
except ImportError:  # Windows
    fcntl = None
    import msvcrt

PATIENCE = 5.0  # s to wait for another program that writes


@contextmanager
def locked(path: Path):
    """Hold the lock of that file; `OSError` when another program holds it for too long."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        until = time.monotonic() + PATIENCE
        while not _took(descriptor):
            if time.monotonic() > until:
                raise OSError("another program has been writing there for too long")
            time.sleep(0.02)
        yield
    finally:
        os.close(descriptor)  # which lets go of the lock


def _took(descriptor: int) -> bool:
    try:
        if fcntl is None:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def replace(path: Path, text: str) -> None:
    """Put `text` in the stead of the file at `path`, all of it or nothing, and see that it is on the disk."""
    if path.exists() and not path.is_file():  # a device or a pipe would be gone for good
        raise OSError(errno.EINVAL, "it is no file")
    descriptor, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with open(descriptor, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, _mode(path))
        os.replace(beside, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
    _folder_to_disk(path.parent)


def append(path: Path, text: str) -> None:
    """Add `text` to the file that is there, and see that it is on the disk; when that fails the file is as it was."""
    with open(path, "ab", buffering=0) as file:
        before, left = os.fstat(file.fileno()).st_size, memoryview(text.encode("utf-8"))
        try:
            while left:
                left = left[file.write(left) :]
            os.fsync(file.fileno())
        except BaseException:
            with suppress(OSError):
                file.truncate(before)
            raise


def _mode(path: Path) -> int:
    """The rights that the file has, or that a new one gets."""
    try:
        return path.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _folder_to_disk(folder: Path) -> None:
    """So that the new name of a file outlives a power cut; where the system cannot, it is not needed."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
