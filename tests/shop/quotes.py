"""A quote made up for the tests: round figures that can be worked by hand."""

from stowright.model.quote import Good, HoursRow, Quote, QuotedPart
from stowright.shop.figures import read_figures
from stowright.shop.pricing import payments, price_up

FIGURES = read_figures(
    "hour_rate = 50\nvariation_rate = 65\nsundries = 0.1\nmarkup = 0.2\ntax = 0.1\nround_to = 5\n"
)
GOODS = (
    Good(name="sheet", group="sheets", get="3", amount=3, price=60.0, total=180.0),
    Good(name="screw", group="screws", get="1", amount=1, price=20.0, total=20.0),
)
HOURS = (HoursRow(what="carcasses", hours=4.0, basis="common practice"),)


def part(name="side", length=700.0, quantity=2):
    return QuotedPart(
        mark="A1", name=name, material="ply-15", length=length, width=300.0, thickness=14.6,
        quantity=quantity,
    )  # fmt: skip


SIDE = part()


def quote(goods=GOODS, hours=HOURS, parts=(SIDE,), mass=40.0):
    sums, price = price_up(FIGURES, goods, hours)
    return Quote(
        job="job 1", title="t", customer="", vehicle="", scope=(), goods=goods, hours=hours,
        sums=sums, price=price, without_price=(), payments=payments(FIGURES, price), mass_kg=mass,
        axles=(), findings=(), parts=parts, figures=FIGURES,
    )  # fmt: skip
