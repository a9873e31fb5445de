"""Files that other programs may write at the same time and that survive a power cut: lock, replace, append."""

from __future__ import annotations

import errno
import os
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO

fcntl: Any
msvcrt: Any
try:
    import fcntl
except ImportError:  # Windows
    fcntl = None
    import msvcrt

PATIENCE = 5.0  # s to wait for another program's lock


@contextmanager
def locked(path: Path):
    """Hold the lock of that file; `OSError` if another program holds it for too long."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    try:
        until = time.monotonic() + PATIENCE
        while not _try_lock(descriptor):
            if time.monotonic() > until:
                raise OSError("another program has held the file for too long")
            time.sleep(0.02)
        yield
    finally:
        os.close(descriptor)  # which releases the lock


def _try_lock(descriptor: int) -> bool:
    try:
        if fcntl is None:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


@contextmanager
def replacing(path: Path, mode: int | None = None) -> Iterator[BinaryIO]:
    """A new file that replaces the one at `path`, synced to disk, when the block ends; if it fails, `path` stays as it was. Its
    permissions are `mode`, or those of the file before it, or of any new file."""
    if path.exists() and not path.is_file():  # a device or a pipe would be lost
        raise OSError(errno.EINVAL, "it is not a regular file")
    descriptor, beside = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with open(descriptor, "wb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, _mode(path) if mode is None else mode)
        os.replace(beside, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
    _folder_to_disk(path.parent)


def replace(path: Path, text: str, mode: int | None = None) -> None:
    """Replace the file at `path`, or make it, all or nothing."""
    with replacing(path, mode) as file:
        file.write(text.encode())


def append(path: Path, text: str) -> None:
    """Append `text` to the file and sync it to disk; on failure the file is as before."""
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
    """The permissions of the file, or of a new one."""
    try:
        return path.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _folder_to_disk(folder: Path) -> None:
    """Sync a folder, so that a file's new name survives a power cut; where the system cannot, it is not needed."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
