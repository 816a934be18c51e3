#!/usr/bin/env python3
"""Writes poisson_binomial.csv and binomial.csv: how likely it is that so many come, by scipy.

usage: make_vectors.py   (Debian: python3-scipy; written with scipy 1.10.1, numpy 1.24.2)

poisson_binomial.csv: people with chances of their own. Found in two ways that share nothing with a
sum over who comes: the characteristic function at the roots of unity turned back by numpy's fast
Fourier transform (Hong 2013, doi:10.1016/j.csda.2012.10.006), and the convolution of each person's
two chances by scipy.signal.convolve (method "direct"). A row is written only if the two agree to 1e-13; the
second is what is written, for it keeps small chances.
binomial.csv: everybody with the same chance, by scipy.stats.binom.sf (the incomplete beta function).
"""
import csv
import pathlib

import numpy
from scipy import signal, stats

HERE = pathlib.Path(__file__).resolve().parent
SEED = 20261125


def by_transform(chances):
    people = len(chances)
    roots = numpy.exp(2j * numpy.pi * numpy.arange(people + 1) / (people + 1))
    values = numpy.prod(1 - chances[None, :] + chances[None, :] * roots[:, None], axis=1)
    return numpy.real(numpy.fft.fft(values)) / (people + 1)


def by_convolution(chances):
    found = numpy.array([1.0])
    for chance in chances:
        found = signal.convolve(found, [1 - chance, chance], method="direct")
    return found


def written(name, header, rows):
    with open(HERE / name, "w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(header)
        table.writerows(rows)


def main():
    random = numpy.random.default_rng(SEED)
    rows = []
    for people in [1, 2, 3, 5, 8, 13, 20, 34, 55, 90, 150, 200]:
        for spread in ["any", "high", "low"]:
            low, high = {"any": (0, 1), "high": (0.7, 1), "low": (0, 0.3)}[spread]
            chances = numpy.round(random.uniform(low, high, people), 2)
            one, other = by_transform(chances), by_convolution(chances)
            if numpy.max(numpy.abs(one - other)) > 1e-13:
                raise SystemExit("the two ways do not agree")
            middle = int(round(chances.sum()))
            wide = int(round(2 * numpy.sqrt((chances * (1 - chances)).sum()))) + 1
            for wanted in sorted({1, max(1, middle - wide), max(1, middle), middle + wide, people}):
                if wanted <= people:
                    rows.append([" ".join(f"{c:g}" for c in chances), wanted,
                                 f"{other[wanted:].sum():.17g}"])
    written("poisson_binomial.csv", ["chances", "wanted", "chance"], rows)
    rows = []
    for asked in [1, 2, 5, 10, 29, 60, 113, 250, 1000, 5000]:
        for each in [0.001, 0.05, 0.3, 0.5, 0.65, 0.9, 0.99]:
            middle = asked * each
            wide = 2 * (asked * each * (1 - each)) ** 0.5
            for wanted in sorted({1, int(middle - wide), int(middle), int(middle + wide) + 1, asked}):
                if 1 <= wanted <= asked:
                    rows.append([asked, each, wanted,
                                 f"{stats.binom.sf(wanted - 1, asked, each):.17g}"])
    written("binomial.csv", ["asked", "each", "wanted", "chance"], rows)


if __name__ == "__main__":
    main()
