"""The laws of the network model, stated anew from their documentation.

SI units: m3/s, Pa, m. The formulas and their sources are those of the doc
comments of package network/loss; nothing is taken from compiled coefficients.
"""
import math
from functools import lru_cache

import numpy as np
from scipy.optimize import brentq


def circle(d):
    return math.pi / 4 * d * d


def colebrook(re, rel):
    """1/sqrt(f) = -2 log10(rel/3.7 + 2.51/(re sqrt f)), Colebrook 1939."""
    x = brentq(lambda x: x + 2 * math.log10(rel / 3.7 + 2.51 * x / re), 0.1, 50, xtol=1e-13, rtol=1e-15)
    return 1 / (x * x)


def friction(re, rel):
    """Darcy factor: laminar to 2300, Colebrook from 4000, a cubic step between."""
    if re <= 2300:
        return 64 / re
    if re >= 4000:
        return colebrook(re, rel)
    t = (re - 2300) / 1700
    w = t * t * (3 - 2 * t)
    return (1 - w) * 64 / re + w * colebrook(re, rel)


def duct(piece, k, air, q):
    """Fall of pressure of a piece that also has the coefficient k."""
    if q == 0:
        return 0.0
    d = piece["Diameter"]
    v = q / circle(d)
    f = friction(abs(v) * d * air["Density"] / air["Viscosity"], piece["Make"]["Roughness"] / d)
    f *= max(1, piece["Make"]["Multiple"]) * piece["Length"] / d
    return (f + k) * air["Density"] / 2 * v * abs(v)


ANGLES = [0, 20, 30, 45, 60, 75, 90, 110, 130, 150, 180]
FACTORS = [0, 0.31, 0.45, 0.60, 0.78, 0.90, 1, 1.13, 1.20, 1.28, 1.40]


def elbow(make, degrees):
    """SMACNA: 0.15 smooth, 0.24 five-piece at R/D 1.5, times the factor of the angle."""
    if degrees <= 5:
        return 0.0
    assert make["ElbowRD"] == 1.5 and make["Elbow"] in (0, 1)
    return (0.15, 0.24)[make["Elbow"]] * float(np.interp(degrees, ANGLES, FACTORS))


def taper(d_from, d_to):
    """A taper of 30 degrees, on the small duct: 0.05 narrowing, at most the sudden
    value (handbooks; Idelchik 1966); 2.6 sin 15 (1 - ratio)^2 widening (Crane TP-410)."""
    if d_from == d_to:
        return 0.0
    ratio = (min(d_from, d_to) / max(d_from, d_to)) ** 2
    if d_to > d_from:
        return 2.6 * math.sin(math.radians(15)) * (1 - ratio) ** 2
    return min(0.05, 0.5 * (1 - ratio) ** 0.75)


def leak(flow_at_1, exponent, static):
    """Inflow of an opening whose law is a power of the suction, smoothed below 0.005 Pa."""
    return flow_at_1 * -static * (static * static + 0.005**2) ** ((exponent - 1) / 2)


class Junction:
    """A wye for any direction of its flows, m and b into it, c = m + b out.

    falls() gives the fall of total pressure from main and from branch to the
    common duct, over rho/2. Where the documentation says that constants are
    adjusted so that neighbours meet, they are found here from the neighbour.
    """

    def __init__(self, ab, am, ac, degrees):
        self.ab, self.am, self.ac = ab, am, ac
        self.a, self.s = ab / ac, am / ac
        self.degrees = degrees
        self.cos = math.cos(math.radians(degrees))
        # Contraction of the common duct into a smaller main, on the main.
        self.narrow = 0.5 * (1 - self.s) ** 0.75 if am < ac else 0.0

    def converging(self, q):
        """Coefficients of main and branch on the common duct; q = b/c."""
        a, s, cos = self.a, self.s, self.cos
        if s < 1 - 1e-9:  # momentum along the common duct
            both = 1 - 2 * (1 - q) ** 2 / s - 2 * q * q * cos / a
            return ((1 - q) / s) ** 2 + both, (q / a) ** 2 + both
        # Levin (Idelchik 1966), its correction blended.
        w = min(max((a - 0.65) / 0.35, 0), 1)
        correct = 1 - w * (1 - max(0.9 * (1 - q), 0.55))
        branch = correct * (1 + (q / a) ** 2 - 2 * (1 - q) ** 2 - 2 * q * q * cos / a)
        # Bassett et al. 2001 to 60 degrees, Idelchik at 90, linear between.
        square = 1.55 * q - q * q
        x, psi, c60 = 1 - q, 1 / a, math.cos(math.radians(min(self.degrees, 60)))
        main = 2 * psi / (psi + c60 / 2) * (1 - x * x - (1 - x) ** 2 * psi * c60) + x * x - 1
        t = min(max((self.degrees - 60) / 30, 0), 1)
        return (1 - t) * main + t * square, branch

    def converge(self, m, b):
        c = m + b
        if c == 0:
            return 0.0, 0.0
        km, kb = self.converging(b / c)
        return km * (c / self.ac) ** 2, kb * (c / self.ac) ** 2

    def main_parts(self, m, b):
        """m > 0 goes on to c and turns by 180 - angle into the branch."""
        km, kb = self.converging(0)
        through = km * ((m + b) / self.ac) ** 2 + 0.4 * (b / self.am) ** 2
        to_branch = (km - kb) * (m / self.ac) ** 2 + (b / self.ab) ** 2 - 2 * m / self.am * b / self.ab * self.cos
        return through, through - to_branch

    def branch_parts(self, m, b):
        """b > 0 turns into c, and by 180 - angle into the main."""
        km, kb = self.converging(1)
        c = m + b
        vb, vm, vc = b / self.ab, m / self.am, c / self.ac
        at1 = (1 / self.ab) ** 2 + (1 / self.ac) ** 2 - 2 / self.ab / self.ac * self.cos
        to_common = kb / self.ac**2 / at1 * (vb * vb + vc * vc - 2 * vb * vc * self.cos)
        to_main = (kb - km) * (self.ab / self.ac) ** 2 * (vm * vm + vb * vb - 2 * vm * vb * self.cos)
        return to_common - to_main, to_common

    def common_parts(self, m, b):
        """-c goes on to the main and turns by the angle into the branch."""
        c = m + b
        vb, vc = b / self.ab, c / self.ac
        through = self.narrow * (m / self.am) ** 2 + 0.4 * (b / self.ac) ** 2
        # What a main that is all of c loses to a branch at rest is that of
        # converging flow, the other way round.
        rest = self.narrow / self.am**2 - self.converging(0)[1] / self.ac**2
        rest -= 1 / self.ac**2  # fades with what goes on to the main
        to_branch = rest * m * m + vc * vc + vb * vb - 2 * vb * vc * self.cos
        return -through, -to_branch

    def main_gathers(self, m, b):
        """b and -c join into the main against the angle of the branch."""
        c = m + b
        end = -self.branch_parts(-1, 1)[0]  # c = 0
        common = self.narrow * (c / self.am) ** 2 + end * b * b + 2 * 0.775 * b * -c / self.am**2
        levin = (m / self.am) ** 2 + (b / self.ab) ** 2 - 2 * (c / self.am) ** 2 + 2 * b * b / self.ab / self.am * self.cos
        first = -self.converging(0)[1] / self.ac**2 * self.am**2  # as common_parts
        last = (self.converging(1)[1] - self.converging(1)[0]) * (self.ab / self.ac) ** 2  # as branch_parts
        x = b / -m
        return -common, (first + (last - first) * x) * levin - common

    def branch_gathers(self, m, b):
        """m and -c join into the branch."""
        c = m + b
        main, branch = self.main_parts(1, -1)  # c = 0
        m0, c0 = main - branch, -branch
        main, branch = self.common_parts(0, -1)  # m = 0
        m1, c1 = main - branch, -branch
        from_main = m0 * m * -b + m1 * -c * -b
        from_common = c0 * m * -b + c1 * -c * -b
        return from_main - from_common, -from_common

    def direction(self, m, b):
        """The name of the way the three flows go."""
        c = m + b
        if m >= 0 and b >= 0:
            return "converge"
        if m > 0:
            return "main_parts" if c >= 0 else "branch_gathers"
        if b > 0 and c >= 0:
            return "branch_parts"
        return "main_gathers" if b >= 0 else "common_parts"

    def falls(self, m, b):
        return getattr(self, self.direction(m, b))(m, b)


@lru_cache(maxsize=None)
def junction(ab, am, ac, degrees):
    return Junction(ab, am, ac, degrees)
