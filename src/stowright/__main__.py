"""``python -m stowright``: the same as the ``stowright`` command."""

from __future__ import annotations

from stowright.cli.main import main

__all__: list[str] = []

if __name__ == "__main__":
    main()
