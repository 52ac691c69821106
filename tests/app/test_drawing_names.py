"""A drawing's file name holds nothing that means something in a path."""

import pytest

from stowright.app.drawing_files import _file_name
from stowright.drawings.scene import Scene


@pytest.mark.parametrize("name", ["../../etc/x", "a/b\\c", "..", "power tools", "näher", "x\0y"])
def test_no_name_leads_out_of_the_folder(name):
    scene = Scene(name=f"set-out-{name}-1", title="", width=1.0, height=1.0, views=())
    made = _file_name(scene)
    assert made.startswith("set-out-")
    assert not set(made) & set("./\\\0 ")
