"""Guards for the range in which a published formula holds."""

from __future__ import annotations

from stowright.errors import OutOfRangeError

__all__ = ["require_at_least", "require_between", "require_finite"]


def require_between(*, low: float, high: float, **values: float) -> None:
    """Refuse any value outside low..high, both ends allowed; NaN is refused too.

    Raises:
        OutOfRangeError: Naming the first offending argument.
    """
    for name, value in values.items():
        if not low <= value <= high:
            raise OutOfRangeError(name, value, f"between {low:g} and {high:g}")


def require_at_least(*, low: float, **values: float) -> None:
    """Refuse any value below low, infinity and NaN.

    Raises:
        OutOfRangeError: Naming the first offending argument.
    """
    for name, value in values.items():
        if not low <= value < float("inf"):
            raise OutOfRangeError(name, value, f"at least {low:g} and finite")


def require_finite(**values: float) -> None:
    """Refuse infinity and NaN; either sign is allowed.

    Raises:
        OutOfRangeError: Naming the first offending argument.
    """
    for name, value in values.items():
        if not abs(value) < float("inf"):
            raise OutOfRangeError(name, value, "a finite number")
