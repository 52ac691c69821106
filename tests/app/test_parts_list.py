"""Lists of parts as people write them: what is read, and what is told in one line."""

import pytest

from stowright.app.cutting_csv import rows_from_csv

HEAD = "mark,length,width,quantity,grain\n"
ROW = "A,700,400,2,yes\n"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (HEAD + ROW, 2),
        ("\ufeff" + HEAD + ROW, 2),
        ("\n  \n" + HEAD + "\n" + ROW + "\n", 5),
        ((HEAD + ROW).replace("\n", "\r\n"), 2),
        ((HEAD + ROW).replace("\n", "\r"), 2),
        ("Grain, WIDTH ,Length,MARK,Quantity\nYes,400,700,A,2\n", 2),
        ("mark,length,width,quantity,grain,room\nA,700,400,2,yes,kitchen\n", 2),
        (HEAD + "A,700,400,2,yes,,,\n", 2),
    ],
    ids=["plain", "BOM", "empty lines", "CR LF", "CR", "order", "one more column", "commas behind"],
)
def test_it_is_read(text, line):
    rows, mistakes = rows_from_csv(text)
    assert mistakes == []
    ((at, part),) = rows
    assert (at, part.mark, part.length, part.width, part.quantity) == (line, "A", 700, 400, 2)
    assert part.grain


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("mark;length;width\nA;700,5;400\n", "line 1, column 1: row: found columns divided by sem"),
        (
            "mark\tlength\twidth\nA\t700\t400\n",
            "line 1, column 1: row: found columns divided by tab",
        ),
        (HEAD + ROW + "B,3,2,1,no\nA,1,1,1,no\n", "line 4, column 1: mark: found A again"),
        (HEAD + "A,700,5,400,2,yes\n", "line 2, column 1: row: found more values than columns"),
        (HEAD + "A,nan,400,2,no\n", "line 2, column 1: length: found nan"),
        (HEAD + "A,700,inf,2,no\n", "line 2, column 1: width: found inf"),
        (HEAD + "A,700,400,0,no\n", "line 2, column 1: quantity: found 0"),
        (HEAD + 'A,"27 1/2",400,1,no\n', "line 2, column 1: length: found 27 1/2"),
        ("mark,mark,length,width\nA,B,1,1\n", "line 1, column 1: mark: found two such columns"),
        ("\n" + HEAD, "line 2, column 1: parts: found no row"),
    ],
    ids=lambda value: value.split(": found ")[-1] if "found" in value else "",
)
def test_a_mistake_is_told_with_its_line(text, told):
    _, mistakes = rows_from_csv(text)
    assert any(str(mistake).startswith(told) for mistake in mistakes), mistakes


def test_an_empty_file_lacks_its_columns():
    _, mistakes = rows_from_csv("")
    assert [mistake.field for mistake in mistakes] == ["mark", "length", "width"]
