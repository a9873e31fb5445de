"""A text as a QR code, by ISO/IEC 18004:2015: byte mode, versions 1 to 6, error correction level M.

Level M restores a code of which about a seventh cannot be read. Codewords, blocks and places of patterns are those of tables 7, 9
and E.1 of the standard; rows and columns are counted from 0 at the upper left.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

QUIET = 4  # squares left light all round
BLOCKS = {1: (1, 16, 10), 2: (1, 28, 16), 3: (1, 44, 26), 4: (2, 32, 18), 5: (2, 43, 24), 6: (4, 27, 16)}
"""By version: how many blocks, and of each the data and the error correction codewords."""
LONGEST = 4  # bits of the terminator
PADDING = (0xEC, 0x11)
FIELD = 0x11D  # x^8 + x^4 + x^3 + x^2 + 1, by which the codewords' field is made
FORMAT, FORMAT_MASK = 0x537, 0x5412  # x^10 + x^8 + x^5 + x^4 + x^2 + x + 1; the level's own two bits are 00
MASKS: tuple[Callable[[np.ndarray, np.ndarray], np.ndarray], ...] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, j: i % 2 + 0 * j == 0,
    lambda i, j: j % 3 + 0 * i == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)
LIKE_A_FINDER = ("10111010000", "00001011101")


def qr_code(text: str, mask: int | None = None) -> np.ndarray:
    """The squares of a text's code, True where dark, shape (n, n); with a `mask` from 0 to 7 given, or the best one.
    `ValueError` if the text is too long."""
    data = text.encode()
    version = _version(len(data))
    squares, free = _patterns(version)
    squares[_way(free)] = _bits(_codewords(data, version), int(free.sum()))
    tried = [_masked(squares, free, number) for number in (range(len(MASKS)) if mask is None else [mask])]
    return min(tried, key=penalty)


def with_quiet_zone(squares: np.ndarray) -> np.ndarray:
    """The squares with the light edge that a reader needs."""
    return np.pad(squares, QUIET)


def outline(squares: np.ndarray) -> str:
    """The dark squares as the path of an SVG, one unit each."""
    parts = []
    for row, line in enumerate(squares):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(int), [0]])))
        parts += [f"M{begin} {row}h{end - begin}v1h{begin - end}z" for begin, end in edges.reshape(-1, 2)]
    return "".join(parts)


def _version(length: int) -> int:
    """The smallest version that takes so many bytes, with 12 bits for mode and count."""
    for version, (blocks, data, _) in BLOCKS.items():
        if length + 2 <= blocks * data:
            return version
    most = max(blocks * data for blocks, data, _ in BLOCKS.values()) - 2
    raise ValueError(f"A code holds at most {most} bytes, not {length}.")


def _codewords(data: bytes, version: int) -> list[int]:
    """Mode, count, data and padding in blocks, each with its error correction, interleaved."""
    blocks, size, check = BLOCKS[version]
    bits = f"0100{len(data):08b}" + "".join(f"{byte:08b}" for byte in data)
    bits += "0" * min(LONGEST, 8 * blocks * size - len(bits))
    bits += "0" * (-len(bits) % 8)
    words = [int(bits[place : place + 8], 2) for place in range(0, len(bits), 8)]
    words += [PADDING[place % 2] for place in range(blocks * size - len(words))]
    parts = [words[place : place + size] for place in range(0, len(words), size)]
    checks = [_remainder(part, check) for part in parts]
    return [word for column in (*zip(*parts, strict=True), *zip(*checks, strict=True)) for word in column]


def _remainder(data: list[int], count: int) -> list[int]:
    """The error correction codewords of a block: the remainder of its division by the product of (x - 2^k), k below `count`."""
    generator = [1]
    for power in range(count):
        root = _power_of_two(power)
        generator = [left ^ _product(root, right) for left, right in zip([*generator, 0], [0, *generator], strict=True)]
    rest = [0] * count
    for word in data:
        factor, rest = word ^ rest[0], [*rest[1:], 0]
        rest = [old ^ _product(factor, part) for old, part in zip(rest, generator[1:], strict=True)]
    return rest


def _product(a: int, b: int) -> int:
    """The product of two codewords in their field."""
    found = 0
    for bit in range(7, -1, -1):
        found = (found << 1) ^ (FIELD if found & 0x80 else 0)
        if b >> bit & 1:
            found ^= a
    return found


def _power_of_two(exponent: int) -> int:
    found = 1
    for _ in range(exponent):
        found = _product(found, 2)
    return found


def _patterns(version: int) -> tuple[np.ndarray, np.ndarray]:
    """The squares with the patterns that are in every code of a version, and which of them are free for data."""
    size = 17 + 4 * version
    squares, free = np.zeros((size, size), bool), np.ones((size, size), bool)
    ring = np.maximum.outer(np.abs(np.arange(-4, 5)), np.abs(np.arange(-4, 5)))
    for row, column in ((3, 3), (3, size - 4), (size - 4, 3)):  # finders with their separators
        rows, columns = (slice(max(0, place - 4), place + 5) for place in (row, column))
        part = ring[max(0, 4 - row) : 4 + size - row, max(0, 4 - column) : 4 + size - column]
        squares[rows, columns], free[rows, columns] = (part != 2) & (part != 4), False
    free[:9, :9] = free[:9, -8:] = free[-8:, :9] = False  # the format's places
    squares[6, 8:-8] = squares[8:-8, 6] = np.arange(8, size - 8) % 2 == 0  # timing
    free[6], free[:, 6] = False, False
    if version > 1:
        around = slice(size - 9, size - 4)
        squares[around, around], free[around, around] = ring[2:7, 2:7] != 1, False
    squares[size - 8, 8] = True
    return squares, free


def _way(free: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns of the free squares in the order in which they are filled: up and down in pairs of columns from the right."""
    size = len(free)
    places = []
    for pair, right in enumerate([*range(size - 1, 6, -2), *range(5, 0, -2)]):
        rows = range(size) if pair % 2 else range(size - 1, -1, -1)
        places += [(row, column) for row in rows for column in (right, right - 1) if free[row, column]]
    rows_of, columns_of = np.array(places).T
    return rows_of, columns_of


def _bits(words: list[int], count: int) -> np.ndarray:
    """Codewords as squares, the remainder light."""
    bits = np.unpackbits(np.array(words, np.uint8))
    return np.concatenate([bits, np.zeros(count - len(bits), np.uint8)]).astype(bool)


def _masked(squares: np.ndarray, free: np.ndarray, mask: int) -> np.ndarray:
    """The code with a mask laid over it, which its format names."""
    size = len(squares)
    made = squares ^ (MASKS[mask](*np.indices(squares.shape)) & free)
    rest = mask << 10
    for bit in range(14, 9, -1):
        rest ^= FORMAT << (bit - 10) if rest >> bit & 1 else 0
    told = ((mask << 10 | rest) ^ FORMAT_MASK) >> np.arange(15) & 1 == 1
    made[[0, 1, 2, 3, 4, 5, 7, 8], 8], made[8, [7, 5, 4, 3, 2, 1, 0]] = told[:8], told[8:]
    made[8, size - 1 - np.arange(8)], made[size - 7 + np.arange(7), 8] = told[:8], told[8:]
    return made


def penalty(squares: np.ndarray) -> int:
    """How hard a code is to read, as the standard counts it: runs, blocks, what looks like a finder, and more dark than light."""
    points = 0
    for line in (*squares, *squares.T):
        text = "".join("1" if dark else "0" for dark in line)
        edges = np.flatnonzero(np.diff(line)) + 1
        lengths = np.diff([0, *edges, len(line)])
        points += int((lengths[lengths >= 5] - 2).sum())
        points += 40 * sum(text.startswith(pattern, place) for pattern in LIKE_A_FINDER for place in range(len(text)))
    alike = (squares[1:, 1:] == squares[:-1, 1:]) & (squares[1:, 1:] == squares[1:, :-1]) & (squares[1:, 1:] == squares[:-1, :-1])
    return points + 3 * int(alike.sum()) + 10 * int(abs(20 * squares.mean() - 10))
