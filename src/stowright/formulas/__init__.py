"""Published mechanics: floats in, floats out, one module per source; knows no panel and no drawer.

Every public function says in its docstring what formula it is, in which units, over which range,
where it comes from and how well that is known; ``SOURCES`` in each module says the last two to a
program.
"""
