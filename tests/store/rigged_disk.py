"""A disk that fails when told to: SQLite's own file layer, with a count in front of it.

SQLite reaches the disk through a table of functions. Here the table of the default layer is copied,
and writing, cutting, flushing and deleting are counted and, at the chosen one, refused with a code
of SQLite's own; nothing is done to the disk then. That is what SQLite's own tests do. Where the
library Python uses cannot be reached by name this says so, and the tests are skipped.

The table becomes the default of the whole process, so it is for a child process only.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import sqlite3
from pathlib import Path
from typing import Any

P, N, L = ctypes.c_void_p, ctypes.c_int, ctypes.c_int64
# Names are passed on as the very pointers they came as: SQLite keeps them.
OPEN = ctypes.CFUNCTYPE(N, P, P, P, N, P)
DELETE = ctypes.CFUNCTYPE(N, P, P, N)
WRITE = ctypes.CFUNCTYPE(N, P, P, N, L)
TRUNCATE = ctypes.CFUNCTYPE(N, P, L)
SYNC = ctypes.CFUNCTYPE(N, P, N)


class Methods(ctypes.Structure):
    """The head of sqlite3_io_methods, and room for the rest (version 3: 18 pointers)."""

    _fields_ = (
        ("version", N),
        ("close", P),
        ("read", P),
        ("write", P),
        ("truncate", P),
        ("sync", P),
        ("rest", P * 13),
    )


class File(ctypes.Structure):
    """The head of sqlite3_file."""

    _fields_ = (("methods", ctypes.POINTER(Methods)),)


class Layer(ctypes.Structure):
    """The head of sqlite3_vfs, and room for the rest (version 3)."""

    _fields_ = (
        ("version", N),
        ("file_size", N),
        ("longest_path", N),
        ("next", P),
        ("name", ctypes.c_char_p),
        ("data", P),
        ("open", P),
        ("delete", P),
        ("rest", P * 14),
    )


class RiggedDisk:
    """Counts what is asked of the disk, and fails it from the k-th on, once or ever after."""

    def __init__(self) -> None:
        """Put the counting layer before the default one."""
        self.count, self.fail_at, self.for_ever = 0, 0, False
        self.code = sqlite3.SQLITE_IOERR
        self.log: list[str] = []
        self.asked: set[str] = set()
        name = ctypes.util.find_library("sqlite3")
        self._library = ctypes.CDLL(name) if name else None
        if self._library is None or not self._is_the_same():
            raise RuntimeError("the SQLite that Python uses cannot be reached")
        self._library.sqlite3_vfs_find.restype = ctypes.POINTER(Layer)
        self._library.sqlite3_vfs_find.argtypes = (ctypes.c_char_p,)
        default = self._library.sqlite3_vfs_find(None)
        self._old = Layer.from_buffer_copy(default.contents)
        self._new = Layer.from_buffer_copy(default.contents)
        self._kept: list[Any] = []
        self._rigged: dict[int, Any] = {}
        self._new.name = b"rigged"
        self._new.open = self._pointer(OPEN(self._open))
        self._new.delete = self._pointer(DELETE(self._delete))
        self._library.sqlite3_vfs_register.argtypes = (P, N)
        self._library.sqlite3_vfs_register(ctypes.byref(self._new), 1)

    def rig(self, *, at: int, for_ever: bool, code: int) -> None:
        """Start counting anew, and fail at the given count."""
        self.count, self.fail_at, self.for_ever, self.code = 0, at, for_ever, code
        self.log.clear()

    def _is_the_same(self) -> bool:
        """Tell whether the library found is the one Python has, by its version and by the map."""
        self._library.sqlite3_libversion.restype = ctypes.c_char_p
        if self._library.sqlite3_libversion().decode() != sqlite3.sqlite_version:
            return False
        with Path("/proc/self/maps").open(encoding="utf-8") as maps:
            return len({line.split()[-1] for line in maps if "libsqlite3" in line}) == 1

    def _fails(self, what: str) -> bool:
        self.count += 1
        self.log.append(what)
        self.asked.add(what)
        if not self.fail_at:
            return False
        return self.count == self.fail_at or (self.for_ever and self.count > self.fail_at)

    def _pointer(self, function: Any) -> int:
        self._kept.append(function)
        return ctypes.cast(function, P).value

    def _open(self, layer: int, name: int, file: int, flags: int, told: int) -> int:
        if flags & 0x4 and self._fails("create"):  # SQLITE_OPEN_CREATE
            # SQLite looks at this to know whether there is anything to close.
            ctypes.cast(file, ctypes.POINTER(File)).contents.methods = None
            return sqlite3.SQLITE_CANTOPEN
        code = OPEN(self._old.open)(layer, name, file, flags, told)
        opened = ctypes.cast(file, ctypes.POINTER(File)).contents
        if code == 0 and opened.methods:
            at = ctypes.cast(opened.methods, P).value
            if at not in self._rigged:
                self._rigged[at] = self._rigged_methods(opened.methods.contents)
            opened.methods = ctypes.pointer(self._rigged[at])
        return code

    def _delete(self, layer: int, name: int, sync: int) -> int:
        if self._fails("delete"):
            return sqlite3.SQLITE_IOERR_DELETE
        return DELETE(self._old.delete)(layer, name, sync)

    def _rigged_methods(self, old: Methods) -> Methods:
        new = Methods.from_buffer_copy(old)
        write, cut, flush = WRITE(old.write), TRUNCATE(old.truncate), SYNC(old.sync)

        def fails_or(what: str, then: Any, *args: Any) -> int:
            return self.code if self._fails(what) else then(*args)

        new.write = self._pointer(WRITE(lambda *a: fails_or("write", write, *a)))
        new.truncate = self._pointer(TRUNCATE(lambda *a: fails_or("truncate", cut, *a)))
        new.sync = self._pointer(SYNC(lambda *a: fails_or("sync", flush, *a)))
        return new
