"""Every public formula says where it comes from: in its docstring and to a program, in the same
words.
"""

import importlib
import inspect
import pkgutil

import pytest

from stowright import formulas
from stowright.formulas import ranges, sources

HELPERS = {"sources", "ranges", "interpolation"}
MODULES = sorted(
    module.name for module in pkgutil.iter_modules(formulas.__path__) if module.name not in HELPERS
)


def functions_of(module):
    return {
        name: value
        for name, value in vars(module).items()
        if inspect.isfunction(value)
        and value.__module__ == module.__name__
        and not name.startswith("_")
    }


@pytest.mark.parametrize("name", MODULES)
def test_each_formula_has_source_and_standing(name):
    module = importlib.import_module(f"stowright.formulas.{name}")
    public = functions_of(module)
    assert set(public) == set(module.SOURCES)
    assert set(public) <= set(module.__all__)
    for function, value in public.items():
        doc = inspect.getdoc(value)
        assert "Source:" in doc, function
        said = " ".join(doc.split("Standing:")[1].split())
        assert said.startswith(module.SOURCES[function].standing), function


@pytest.mark.parametrize("name", MODULES)
def test_numbers_are_named_at_the_call(name):
    module = importlib.import_module(f"stowright.formulas.{name}")
    for function, value in functions_of(module).items():
        for parameter in inspect.signature(value).parameters.values():
            if "float" in str(parameter.annotation) or parameter.annotation == "int":
                assert parameter.kind is parameter.KEYWORD_ONLY, (function, parameter.name)


@pytest.mark.parametrize("name", sorted([*MODULES, *HELPERS]))
def test_public_names_are_listed(name):
    module = importlib.import_module(f"stowright.formulas.{name}")
    assert set(functions_of(module)) <= set(module.__all__)
    assert all(hasattr(module, each) for each in module.__all__)


def test_how_a_standing_is_shown():
    shown = {
        standing: sources.Source(text="x", standing=standing).shown_as
        for standing in sources.SHOWN_AS
    }
    assert shown == {
        "published": "published",
        "public restatement": "published",
        "derived": "published",
        "common practice": "common practice",
        "from memory": "from memory",
        "judgement": "assumed",
    }


def test_range_guards_name_what_they_refuse():
    ranges.require_between(low=1.0, high=2.0, a_mm=1.0, b_mm=2.0)
    ranges.require_at_least(low=1.0, a_mm=1.0)
    ranges.require_finite(a_mm=-5.0)
    with pytest.raises(ValueError, match="b_mm must be between 1 and 2"):
        ranges.require_between(low=1.0, high=2.0, a_mm=1.5, b_mm=2.1)
    with pytest.raises(ValueError, match="a_mm must be at least 1 and finite"):
        ranges.require_at_least(low=1.0, a_mm=0.9)
    with pytest.raises(ValueError, match="a_mm must be at least 1 and finite"):
        ranges.require_at_least(low=1.0, a_mm=float("inf"))
    with pytest.raises(ValueError, match="a_mm must be a finite number"):
        ranges.require_finite(a_mm=float("-inf"))
