"""Invented batches for the benchmark: about 2 000 parts of many jobs, and priced stock."""

import numpy as np

from stowright.model.layout import CutPart, StockSheet

ABOUT = 2000  # parts


def batches():
    """Return batches by name: few round sizes, drawer units of a bay, cabinets without a grid."""
    return {
        "round sizes": list(round_sizes()),
        "drawer units": up_to(drawer_units(1)),
        "drawer units 2": up_to(drawer_units(2)),
        "cabinets": up_to(cabinets(1)),
    }


def up_to(parts, about=ABOUT):
    """Return whole rows until there are about so many parts."""
    found, count = [], 0
    for part in parts:
        found.append(part)
        count += part.quantity
        if count >= about:
            break
    return found


def priced_lists():
    """Yield name, parts and stock: 400 and 800 parts on two to eight priced sizes."""
    for seed, about, sizes, offcuts in ((51, 400, 2, 0), (52, 800, 3, 2), (53, 400, 5, 3)):
        stock = tuple(priced_stock(seed, sizes, offcuts))
        yield f"cabinets {sizes + offcuts}", up_to(cabinets(seed), about), stock
        yield f"drawers {sizes + offcuts}", up_to(drawer_units(seed), about), stock


def priced_stock(seed, sizes, offcuts):
    """Yield a common size without limit, others priced near it, and offcuts at a low value."""
    chance = np.random.default_rng(seed)
    yield priced("S0", 2500, 1250, 64.0)
    kinds = [(2440, 1220), (3050, 1220), (2135, 1220), (2800, 2070), (1830, 915), (1220, 610)]
    chance.shuffle(kinds)
    for number, (length, width) in enumerate(kinds[: sizes - 1], start=1):
        price = round(length * width / 1e6 * 20.5 * float(chance.uniform(0.95, 1.1)), 1)
        copies = int(chance.integers(2, 16)) if number % 2 else None
        yield priced(f"S{number}", length, width, price, copies)
    for number in range(offcuts):
        length, width = int(chance.integers(700, 2000)), int(chance.integers(300, 1000))
        price = round(length * width / 1e6 * 20.5 * float(chance.uniform(0.3, 0.8)), 1)
        yield priced(f"R{number}", length, width, price, int(chance.integers(1, 4)))


def priced(name, length, width, price, copies=None):
    """Return a size of sheet with what one counts for."""
    return StockSheet(
        id=name,
        material="ply",
        length=length,
        width=width,
        copies=copies,
        cost=price,
        offcut=name.startswith("R"),
        in_hand=name.startswith("R"),
    )


def rows_of(job, rows):
    """Yield the parts of one job from length, width, quantity and grain."""
    for number, (length, width, quantity, grain) in enumerate(rows, start=1):
        if quantity:
            yield CutPart(
                mark=str(number),
                job=f"J{job}",
                length=length,
                width=width,
                quantity=quantity,
                grain=bool(grain),
                material="ply",
            )


def round_sizes():
    """80 cabinets with drawers whose sizes come from short lists."""
    chance = np.random.default_rng(1)
    for job in range(1, 81):
        high, deep, wide, low = (
            int(chance.choice(sizes))
            for sizes in (
                [400, 450, 520, 600, 720],
                [350, 450, 520, 560],
                [450, 600, 800, 900, 1000],
                [120, 180, 220],
            )
        )
        small = int(chance.integers(100, 301)), int(chance.integers(80, 201))
        rows = [
            (high, deep, 2, True),
            (wide - 36, deep, 2, False),
            (wide - 36, 100, 2, False),
            (deep - 20, low, 4, True),
            (wide - 120, low, 4, False),
            (wide - 4, low + 20, 2, True),
            (wide - 90, deep - 30, 2, False),
            (high - 36, deep - 20, int(chance.integers(1, 4)), True),
            (*small, int(chance.integers(1, 10)), False),
        ]
        yield from rows_of(job, rows)


def drawer_units(seed):
    """Units of one to three drawers for bays of any size to the millimetre: long grained parts."""
    chance = np.random.default_rng(seed)
    for job in range(1, 401):
        long, wide, high = (
            int(chance.integers(*span)) for span in ((900, 2000), (800, 1300), (220, 420))
        )
        drawers, ply = int(chance.integers(1, 4)), int(chance.choice([12, 15, 18]))
        own = (wide - (drawers + 1) * ply - drawers * 26) // drawers
        whole = chance.random() < 0.6
        rows = [
            (long, high, drawers + 1, True),
            (long if whole else long // 2, wide, 1, False),
            (wide, high, 1, False),
            (long - 60, high - 60, 2 * drawers, True),
            (own - 2 * ply, high - 60, 2 * drawers, False),
            (own, long - 60, drawers, False),
            (own + 20, high - 8, drawers, True),
            (
                int(chance.integers(80, 200)),
                int(chance.integers(80, 160)),
                int(chance.integers(2, 8)),
                False,
            ),
        ]
        yield from rows_of(job, [kept_on_sheet(row) for row in rows])


def kept_on_sheet(row):
    """Return a row whose parts fit on a sheet."""
    length, width, quantity, grain = max(row[0], 40), max(row[1], 40), row[2], row[3]
    if length > 2420 or width > 1200:
        length, width = min(length, 2400), min(width, 1190)
    return length, width, quantity, grain


def cabinets(seed):
    """Jobs of two to four cabinets with sizes to the millimetre: hardly any two parts alike."""
    chance = np.random.default_rng(seed)
    for job in range(1, 401):
        rows = []
        for _ in range(int(chance.integers(2, 5))):
            high, deep, wide = (
                int(chance.integers(*span)) for span in ((350, 2100), (280, 600), (300, 1000))
            )
            rows += [
                (high, deep, 2, True),
                (wide - 36, deep, 2, False),
                (wide - 40, deep - 20, int(chance.integers(0, 4)), False),
                (wide, 100, 1, False),
            ]
        yield from rows_of(job, rows)
