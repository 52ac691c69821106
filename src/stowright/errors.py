"""Everything that stowright raises on purpose.

::

    StowrightError
    ├── OutOfRangeError (ValueError)     a number outside what a formula or a value can take
    ├── JobError (ValueError)            one or more mistakes in a job, stock or parts file
    ├── CatalogueError (ValueError)      a catalogue row that cannot be used
    ├── UnknownNameError (LookupError)   a name that nothing answers to, with the nearest known ones
    ├── BasisMixError (ValueError)       demand and capacity stated on different bases
    ├── DesignError (ValueError)         a job that no geometry can serve, with what would
    ├── CuttingError                     no layout can be made or a layout failed its check
    ├── BookError                        the plan book is incomplete or does not typeset
    ├── FileConflictError (OSError)      a file that is not ours stands where we would write
    ├── MissingExtraError (ImportError)  an optional library is not installed
    └── StoppedError                     long work was stopped by whoever asked for it

"Too weak" and "does not fit" are findings (values in ``model``), not errors.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BasisMixError",
    "BookError",
    "CatalogueError",
    "CuttingError",
    "DesignError",
    "FileConflictError",
    "JobError",
    "MissingExtraError",
    "Mistake",
    "OutOfRangeError",
    "StoppedError",
    "StowrightError",
    "UnknownNameError",
    "require_not_negative",
    "require_positive",
]


class StowrightError(Exception):
    """The base of every error raised on purpose."""


class OutOfRangeError(StowrightError, ValueError):
    """A number lies outside what is allowed.

    Attributes:
        name: The argument's name, with its unit suffix.
        value: What was given.
        valid: What is allowed, in words that follow "must be".
    """

    def __init__(self, name: str, value: float, valid: str) -> None:
        super().__init__(name, value, valid)  # all fields: keeps it picklable
        self.name, self.value, self.valid = name, value, valid

    def __str__(self) -> str:
        return f"{self.name} must be {self.valid} (got {self.value:g})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One thing that is wrong in a file, told in one line.

    Attributes:
        field: Where it is, as a dotted path: ``bay.arches[2].start`` (counted from 1).
        found: What was found there, as text.
        allowed: What would be accepted.
        line: Line in the file, counted from 1; 0 when it has none.
        column: Column, counted from 1; 0 when it has none.
        nearest: The nearest known name for a misspelt one, else empty.
    """

    field: str
    found: str
    allowed: str
    line: int = 0
    column: int = 0
    nearest: str = ""

    def __str__(self) -> str:
        column = f", column {self.column}" if self.column else ""
        where = f"line {self.line}{column}: " if self.line else ""
        hint = f"; did you mean {self.nearest}?" if self.nearest else ""
        return f"{where}{self.field}: found {self.found}; allowed: {self.allowed}{hint}"


class JobError(StowrightError, ValueError):
    """A file has mistakes; all of them are carried.

    Attributes:
        mistakes: Every mistake found, in the order of the file.
    """

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        super().__init__(mistakes)
        self.mistakes = mistakes

    def __str__(self) -> str:
        return "\n".join(str(mistake) for mistake in self.mistakes)


class CatalogueError(StowrightError, ValueError):
    """A catalogue row cannot be used.

    Attributes:
        table: Which table (materials, runners, ...).
        row: The row's name.
        reason: What is wrong with it.
    """

    def __init__(self, table: str, row: str, reason: str) -> None:
        super().__init__(table, row, reason)
        self.table, self.row, self.reason = table, row, reason

    def __str__(self) -> str:
        return f"catalogue {self.table}, {self.row}: {self.reason}"


class UnknownNameError(StowrightError, LookupError):
    """Nothing answers to a name.

    Attributes:
        kind: What was looked for (material, runner, proof, ...).
        name: The name that was given.
        known: The nearest known names, best first.
    """

    def __init__(self, kind: str, name: str, known: tuple[str, ...] = ()) -> None:
        super().__init__(kind, name, known)
        self.kind, self.name, self.known = kind, name, known

    def __str__(self) -> str:
        hint = f"; nearest: {', '.join(self.known)}" if self.known else ""
        return f"no {self.kind} is called {self.name!r}{hint}"


class BasisMixError(StowrightError, ValueError):
    """Two values stated on different bases were about to be compared.

    Attributes:
        demand_basis: Basis of the demand.
        capacity_basis: Basis of the capacity.
    """

    def __init__(self, demand_basis: str, capacity_basis: str) -> None:
        super().__init__(demand_basis, capacity_basis)
        self.demand_basis, self.capacity_basis = demand_basis, capacity_basis

    def __str__(self) -> str:
        return (
            f"a demand on basis {self.demand_basis!r} cannot be held against "
            f"a capacity on basis {self.capacity_basis!r}"
        )


class DesignError(StowrightError, ValueError):
    """No geometry can serve the job as asked.

    Attributes:
        about: The block, column, opening or part, as named in the job.
        reason: What does not go, with the sum.
        advice: What would go.
        odd: What is odd about the job that was refused: it may be the cause.
    """

    def __init__(
        self, about: str, reason: str, advice: str = "", *, odd: tuple[str, ...] = ()
    ) -> None:
        super().__init__(about, reason, advice)
        self.about, self.reason, self.advice, self.odd = about, reason, advice, odd

    def __str__(self) -> str:
        hint = f" ({self.advice})" if self.advice else ""
        return f"{self.about}: {self.reason}{hint}"


class CuttingError(StowrightError):
    """No layout can be made, or one failed its check; the text says which part and why."""


class BookError(StowrightError):
    """The plan book is incomplete or does not typeset; the text lists what is missing."""


class FileConflictError(StowrightError, OSError):
    """A file that an earlier run did not write stands where this one would write.

    Attributes:
        path: The file, as it would be written.
    """

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.path = path

    def __str__(self) -> str:
        return f"{self.path} was not written by stowright; move it or use --force"


class MissingExtraError(StowrightError, ImportError):
    """Something was asked for that needs a library which is not installed.

    Attributes:
        what: What was asked for.
        library: The library it needs.
        extra: The extra that brings it.
    """

    def __init__(self, what: str, library: str, extra: str) -> None:
        super().__init__(what, library, extra)
        self.what, self.library, self.extra = what, library, extra

    def __str__(self) -> str:
        return (
            f"{self.what} needs {self.library}, which is not installed; "
            f"add the extra {self.extra!r}: pip install 'stowright[{self.extra}]'"
        )


class StoppedError(StowrightError):
    """Long work was stopped by whoever asked for it."""


def require_positive(**values: float) -> None:
    """Refuse any value that is not above zero; NaN is refused too.

    Raises:
        OutOfRangeError: Naming the first offending argument.
    """
    for name, value in values.items():
        if not 0.0 < value < float("inf"):
            raise OutOfRangeError(name, value, "above zero and finite")


def require_not_negative(**values: float) -> None:
    """Refuse any value below zero; NaN is refused too.

    Raises:
        OutOfRangeError: Naming the first offending argument.
    """
    for name, value in values.items():
        if not 0.0 <= value < float("inf"):
            raise OutOfRangeError(name, value, "zero or more and finite")
