"""Compiling the inner loops with numba, and keeping what was compiled.

numba keeps compiled code beside a source file and looks only at that file's date. Loops that
call functions of another file would go on with old ones after a change there, so what is kept
here lies in a folder named after the contents of all files that are compiled.
"""

from __future__ import annotations

import hashlib
import os
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["compiled"]

#: All files with loops that are compiled, from here; packing has some of its own.
_FILES = (
    "kernel.py",
    "rounds.py",
    "handiness.py",
    "single.py",
    "recut_kernel.py",
    "strips_kernel.py",
    "scarce_kernel.py",
    "anneal_kernel.py",
    "../explore/packing_kernel.py",
    "../explore/packing_spaces.py",
    "../explore/packing_mending.py",
    "../explore/packing_beam.py",
    "../explore/packing_by_mass.py",
)


def compiled[F: Callable[..., Any]](function: F) -> F:
    """Return a function that is compiled where it is first called, and kept where that can be.

    With ``NUMBA_DISABLE_JIT=1`` it stays plain Python: far slower, the same result.
    """
    numba = import_module("numba")
    before, folder = numba.config.CACHE_DIR, _FOLDER
    numba.config.CACHE_DIR = before or str(folder or "")
    try:
        kept = bool(before or folder)
        made: F = numba.njit(cache=kept, nogil=True)(function)
    finally:
        numba.config.CACHE_DIR = before
    return made


def _folder() -> Path | None:
    """Return where compiled code is kept: in the user's cache, by the sources' contents.

    None when nothing can be written there: then it is compiled anew by every run.
    """
    digest = hashlib.sha256()
    for name in _FILES:
        digest.update((Path(__file__).parent / name).read_bytes())
    cache = Path(os.environ.get("XDG_CACHE_HOME") or Path("~/.cache").expanduser())
    folder = cache / "stowright" / "compiled" / digest.hexdigest()[:16]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None


_FOLDER = _folder()
