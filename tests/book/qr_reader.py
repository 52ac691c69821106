"""A reader of small QR codes, written from ISO/IEC 18004: version 1, no error correction applied.

It reads the matrix of modules back to the text that was put in, so that labels are checked by
something that had no part in making them.
"""

import re

ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
MASKS = (
    lambda r, c: (r + c) % 2 == 0,
    lambda r, c: (r + 0 * c) % 2 == 0,
    lambda r, c: (0 * r + c) % 3 == 0,
    lambda r, c: (r + c) % 3 == 0,
    lambda r, c: (r // 2 + c // 3) % 2 == 0,
    lambda r, c: (r * c) % 2 + (r * c) % 3 == 0,
    lambda r, c: ((r * c) % 2 + (r * c) % 3) % 2 == 0,
    lambda r, c: ((r + c) % 2 + (r * c) % 3) % 2 == 0,
)
SIZE = 21
QUIET = 4


def modules_of(svg):
    """Return the matrix that the SVG shows; the quiet zone has to be white."""
    dark = {(int(y), int(x)) for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", svg)}
    wide = int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])
    assert wide == SIZE + 2 * QUIET, "version 1 with its quiet zone"
    assert all(QUIET <= v < QUIET + SIZE for cell in dark for v in cell)
    return [[(r + QUIET, c + QUIET) in dark for c in range(SIZE)] for r in range(SIZE)]


def text_of(svg):
    matrix = modules_of(svg)
    # Format: five data bits along row 8 from the left, masked with 10101, the start of the
    # standard's 101010000010010; the last three are the number of the mask.
    bits = [int(matrix[8][c]) ^ m for c, m in zip(range(5), (1, 0, 1, 0, 1), strict=True)]
    mask = MASKS[4 * bits[2] + 2 * bits[3] + bits[4]]
    stream = "".join(str(int(matrix[r][c] ^ mask(r, c))) for r, c in data_cells())
    return decoded(stream)


def is_function(r, c):
    finders = (r < 9 and c < 9) or (r < 9 and c > 12) or (r > 12 and c < 9)
    return finders or r == 6 or c == 6


def data_cells():
    """Yield data cells in reading order: columns in pairs from the right, up and down in turn."""
    rights = [c if c > 6 else c - 1 for c in range(SIZE - 1, 0, -2)]
    for number, right in enumerate(rights):
        rows = range(SIZE - 1, -1, -1) if number % 2 == 0 else range(SIZE)
        for r in rows:
            for c in (right, right - 1):
                if not is_function(r, c):
                    yield r, c


def decoded(stream):
    mode, rest = stream[:4], stream[4:]
    if mode == "0010":  # alphanumeric: nine bits of count, pairs in eleven bits
        count, rest = int(rest[:9], 2), rest[9:]
        text = ""
        while len(text) < count:
            step = 11 if count - len(text) > 1 else 6
            value, rest = int(rest[:step], 2), rest[step:]
            text += (
                ALPHANUMERIC[value // 45] + ALPHANUMERIC[value % 45]
                if step == 11
                else ALPHANUMERIC[value]
            )
        return text
    assert mode == "0100", "byte mode"
    count, rest = int(rest[:8], 2), rest[8:]
    return bytes(int(rest[8 * k : 8 * k + 8], 2) for k in range(count)).decode()
