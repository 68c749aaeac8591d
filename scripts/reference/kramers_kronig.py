"""The linear Kramers-Kronig fit of a published example by an open library, for KramersKronigTest.

    pip install impedance                                # MIT licence, https://github.com/ECSHackWeek/impedance.py
    python3 scripts/reference/kramers_kronig.py          # writes fixtures/kramers-kronig/fit-M.csv

Source of the spectrum and terms of use: fixtures/kramers-kronig/README.md.
"""
from pathlib import Path

import numpy as np
from impedance.validation import linKK

FOLDER = Path(__file__).resolve().parents[2] / "fixtures" / "kramers-kronig"


def main():
    hz, re, im = np.loadtxt(FOLDER / "cell.csv", delimiter=",", unpack=True)
    for elements in (7, 12, 20):
        _, mu, fit, left_re, left_im = linKK(hz, re + 1j * im, c=None, max_M=elements, fit_type="complex", add_cap=True)
        rows = np.column_stack((hz, fit.real, fit.imag, left_re, left_im))
        np.savetxt(FOLDER / f"fit-{elements}.csv", rows, delimiter=",", fmt="%.12e",
                   header=f"mu {mu:.9f}; hz, re, im of the fit in ohms, what is left of re and of im over |Z|", comments="# ")


if __name__ == "__main__":
    main()
