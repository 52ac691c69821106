"""The public surface is a list, and this guards it."""

import stowright


def test_every_public_name_is_listed_and_loads():
    assert list(stowright.__all__) == sorted(stowright.__all__, key=lambda n: (n.islower(), n))
    for name in stowright.__all__:
        assert getattr(stowright, name).__name__ == name
    assert set(stowright.__all__) <= set(dir(stowright))


def test_nothing_is_visible_that_is_not_listed():
    modules = {"annotations", "import_module", "TYPE_CHECKING"}
    rooms = {name for name in vars(stowright) if hasattr(vars(stowright)[name], "__path__")}
    plain = {name for name in vars(stowright) if not name.startswith("_")}
    leaves = {"errors", "units"}
    assert plain - modules - rooms - leaves <= set(stowright.__all__)


def test_an_unknown_name_is_refused():
    assert not hasattr(stowright, "no_such_name")
