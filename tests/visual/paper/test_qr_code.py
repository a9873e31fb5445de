"""Codes to scan: a reader that others have written (ZXing) reads them, whole and with a part covered."""

from __future__ import annotations

import re

import numpy as np
import pytest
import zxingcpp

from visual.paper.qr_code import outline, penalty, qr_code, with_quiet_zone

# ISO/IEC 18004:2015, table 7: the bytes that a code of level M takes, by version
MOST_BYTES = {1: 14, 2: 26, 3: 42, 4: 62, 5: 84, 6: 106}
ADDRESS = "http://192.0.2.20:8643/k7m3qd"


def read(squares: np.ndarray) -> list[str]:
    """What the reader finds in a picture of a code."""
    picture = np.kron(np.where(with_quiet_zone(squares), 0, 255).astype(np.uint8), np.ones((4, 4), np.uint8))
    return [found.text for found in zxingcpp.read_barcodes(picture)]


@pytest.mark.parametrize("mask", range(8))
@pytest.mark.parametrize("version", MOST_BYTES)
def test_every_size_is_read_in_every_mask(version, mask):
    text = (ADDRESS * 4)[: MOST_BYTES[version]]
    squares = qr_code(text, mask)
    assert squares.shape == (17 + 4 * version,) * 2 and read(squares) == [text]


@pytest.mark.parametrize("text", ["a", "é" * 7, "http://10.0.0.1:1/x", ADDRESS, "\N{GREEK CAPITAL LETTER OMEGA}" * 53])
def test_a_text_of_any_length_takes_the_smallest_code_and_its_best_mask(text):
    squares = qr_code(text)
    assert read(squares) == [text]
    assert len(squares) == min(17 + 4 * version for version, most in MOST_BYTES.items() if len(text.encode()) <= most)
    assert penalty(squares) == min(penalty(qr_code(text, mask)) for mask in range(8))


def test_a_code_of_which_a_part_cannot_be_read_is_read_all_the_same():
    squares = qr_code(ADDRESS)
    covered = squares.copy()
    covered[12:17, 12:17] = True  # 25 squares of 567, across some of the 13 codewords that 26 more can restore
    assert (covered != squares).any() and read(covered) == [ADDRESS]


def test_what_is_too_long_is_told():
    with pytest.raises(ValueError, match="at most 106 bytes, not 107"):
        qr_code("x" * 107)


def test_the_outline_covers_the_dark_squares_and_no_others():
    squares = with_quiet_zone(qr_code(ADDRESS))
    painted = np.zeros_like(squares)
    for x, y, width, back in re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", outline(squares)):
        assert width == back
        painted[int(y), int(x) : int(x) + int(width)] = True
    assert (painted == squares).all() and not squares[:4].any() and not squares[:, -4:].any()


def test_the_penalty_is_counted_as_the_standard_does():
    """By hand, ISO/IEC 18004:2015, 7.8.3: a square of 6 by 6, all dark: 12 lines of six are 4 points each, 25 blocks 3 each, and the
    share of dark is ten steps of 5 % off."""
    assert penalty(np.ones((6, 6), bool)) == 12 * 4 + 25 * 3 + 100
    chess = np.indices((8, 8)).sum(0) % 2 == 0
    assert penalty(chess) == 0
    chess[3, :7] = [1, 0, 1, 1, 1, 0, 1]  # half a finder without four light squares beside it
    without = penalty(chess)
    wide = np.pad(chess, ((0, 0), (0, 4)))
    assert penalty(wide) - without >= 40


def test_the_format_is_written_as_in_the_standards_example():
    """ISO/IEC 18004, annex on format information (memory): level M and mask 101 are written 100000011001110, from the left along row 8
    and then up column 8, past the timing lines. A reader mends a wrong bit, so that reading tells nothing of it."""
    squares = qr_code(ADDRESS, 0b101)
    along = [squares[8, column] for column in (0, 1, 2, 3, 4, 5, 7, 8)] + [squares[row, 8] for row in (7, 5, 4, 3, 2, 1, 0)]
    other = [squares[-1 - k, 8] for k in range(7)] + list(squares[8, -8:])
    assert "".join("01"[int(dark)] for dark in along) == "".join("01"[int(dark)] for dark in other) == "100000011001110"
