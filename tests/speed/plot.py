#!/usr/bin/env python3
"""Draws how times grow with sizes, both on logarithmic scales, from what `witnessmark speed --growth` prints:
    witnessmark speed --growth | tests/speed/plot.py FILE.svg
A line as steep as the dotted ones takes twice as long for twice as much."""

import math
import re
import sys

SECONDS = {"us": 1e-6, "ms": 1e-3, "s": 1}
ROW = re.compile(
    r"^\|?\s*(?P<what>\S.*?)\s*(?:\||\s{2,})\s*(?P<first>\d+) (?P<size>[a-z]+)[\s|]+(?P<t1>[\d.]+ (?:us|ms|s))[\s|]+"
    r"(?P<second>\d+)[\s|]+(?P<t2>[\d.]+ (?:us|ms|s))[\s|]+(?P<third>\d+)[\s|]+(?P<t3>[\d.]+ (?:us|ms|s))[\s|]+"
    r"(?P<exponent>-?[\d.]+)")
WIDTH, HEIGHT, LEFT, TOP, RIGHT, BOTTOM = 900, 560, 80, 30, 320, 60
DASHES = ["none", "8 4", "2 4", "12 4 2 4", "4 2", "16 6"]  # told apart without colours


def read(lines):
    """(what, size, [(size, seconds)], exponent) of each row of the table."""
    found = []
    for line in lines:
        if match := ROW.match(line):
            def seconds(name):
                number, unit = match[name].split()
                return float(number) * SECONDS[unit]
            points = [(int(match[n]), seconds(t)) for n, t in (("first", "t1"), ("second", "t2"), ("third", "t3"))]
            found.append((match["what"], match["size"], points, match["exponent"]))
    return found


def decades(values):
    return math.floor(math.log10(min(values))), math.ceil(math.log10(max(values)))


def label(decade):
    unit = "us" if decade < -3 else "ms" if decade < 0 else "s"
    return f"{round(10**decade / SECONDS[unit])} {unit}"


def svg(rows):
    low_x, high_x = decades([size for row in rows for size, _ in row[2]])
    low_y, high_y = decades([time for row in rows for _, time in row[2]])

    def at(size, time):
        x = LEFT + (math.log10(size) - low_x) / max(high_x - low_x, 1) * (WIDTH - LEFT - RIGHT)
        y = HEIGHT - BOTTOM - (math.log10(time) - low_y) / max(high_y - low_y, 1) * (HEIGHT - TOP - BOTTOM)
        return x, y

    out = [f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{HEIGHT}" font-family="DejaVu Sans, '
           f'sans-serif" font-size="13"><rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>']
    for decade in range(low_x, high_x + 1):
        x, bottom = at(10**decade, 10**low_y)
        out.append(f'<path d="M{x:.1f} {TOP}V{bottom}" stroke="#ccc"/>')
        out.append(f'<text x="{x:.1f}" y="{bottom + 20}" text-anchor="middle">{10**decade}</text>')
    for decade in range(low_y, high_y + 1):
        x, y = at(10**low_x, 10**decade)
        out.append(f'<path d="M{x} {y:.1f}H{WIDTH - RIGHT}" stroke="#ccc"/>')
        out.append(f'<text x="{x - 8}" y="{y + 4:.1f}" text-anchor="end">{label(decade)}</text>')
    out.append(f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 14}" text-anchor="middle">how many</text>')
    for number, (what, size, points, exponent) in enumerate(rows):
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (at(*point) for point in points))
        dash = DASHES[number % len(DASHES)]
        out.append(f'<polyline points="{path}" fill="none" stroke="#000" stroke-width="2" stroke-dasharray="{dash}"/>')
        (first, time), y = points[0], TOP + 20 + 34 * number
        straight = [at(first, time), at(points[-1][0], time * points[-1][0] / first)]
        out.append('<polyline points="' + " ".join(f"{a:.1f},{b:.1f}" for a, b in straight) +
                   '" fill="none" stroke="#888" stroke-dasharray="1 5"/>')
        x = WIDTH - RIGHT + 20
        out.append(f'<path d="M{x} {y}h50" stroke="#000" stroke-width="2" stroke-dasharray="{dash}"/>')
        out.append(f'<text x="{x + 60}" y="{y + 4}">{what}</text>')
        out.append(f'<text x="{x + 60}" y="{y + 19}" fill="#555">by {size}, exponent {exponent}</text>')
    return "\n".join(out + ["</svg>", ""])


def main():
    rows = read(sys.stdin)
    if len(sys.argv) != 2 or not rows:
        sys.exit("error: give a file to draw in, and on stdin what witnessmark speed --growth prints")
    with open(sys.argv[1], "w", encoding="utf-8") as file:
        file.write(svg(rows))


if __name__ == "__main__":
    main()
