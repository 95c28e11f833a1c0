"""Solves the looped networks of main.go by scipy.optimize.root, apart from ours.

Usage: solve.py NETWORKS.json >ANSWERS.json

States mass balance and pressure equations itself (laws.py, layout.py). Each state
is solved from random starts of its own, by two ways of continuation, and from our
answer as one more start; "starts" tells which came to which answer.
The answer given is the one that most own starts come to.
"""
import json
import math
import platform
import sys

import numpy as np
import scipy
from scipy.optimize import root

from laws import circle, duct, leak, taper
from layout import ROOM, Layout

OWN_STARTS = 8  # of each kind
FLOW, PRESSURE = 0.1, 1000.0  # scales of the unknowns and equations
TIGHT_PA, TIGHT_FLOW = 1e-6, 1e-10  # residuals of an answer
SAME = 1e-7  # m3/s: flows of one answer


class Case:
    """A network in a state: its live links and the equations for them."""

    def __init__(self, shop, state):
        self.lay = Layout(shop)
        self.state = state
        lay, spec = self.lay, shop["Spec"]
        self.air, self.rho = spec["Air"], spec["Air"]["Density"]
        self.links = [list(l) for l in lay.links]
        self.gate = [0.0] * len(lay.runs)
        self.dead = set()
        self.leaks = []  # node, leaving link, its area, flow at 1 Pa, exponent
        self.resist = {}  # opening's link: resistance
        self.openings(spec)
        self.leakage(spec)
        self.reach()

    def hole(self, p, cd_area):
        self.seep(p, cd_area * math.sqrt(2 / self.rho), 0.5)

    def seep(self, p, flow_at_1, exponent):
        lay = self.lay
        self.leaks.append((lay.own[p], lay.leaving[p], lay.out_area[p], flow_at_1, exponent))

    def opening(self, p, open_, k, d, leak_area):
        if open_:
            self.resist[len(self.links)] = k * self.rho / 2 / circle(d) ** 2
            self.links.append([ROOM, self.lay.own[p]])
            self.sources.add(p)
        elif leak_area > 0:
            self.hole(p, 0.62 * leak_area)

    def openings(self, spec):
        lay, on = self.lay, set((self.state["Running"] or []) + (self.state["Open"] or []))
        self.sources = set()
        for tool in spec["Tools"]:
            for port in tool["Ports"]:
                p, gate, d = lay.index[port["At"]], port["Gate"], port["Diameter"]
                k = port["Entry"] + gate["Open"]
                loose = all(r["To"] != port["At"] for r in lay.runs)
                if loose and lay.way_out[p] >= 0:
                    behind = lay.first(lay.way_out[p])
                    k += taper(d, behind) * (d / min(d, behind)) ** 4
                self.opening(p, tool["ID"] in on, k, d, gate["Leak"])
        for b in spec["Bleeds"] or []:
            self.opening(lay.index[b["At"]], b["ID"] in on, b["K"], b["Diameter"], b["Leak"])
        # A gate in a run is shut where nothing upstream of it is open.
        fed = set(self.sources)
        while True:
            more = {lay.index[r["To"]] for r in lay.runs if lay.index[r["From"]] in fed} - fed
            if not more:
                break
            fed |= more
        for i, r in enumerate(lay.runs):
            if not r["Gate"]:
                continue
            shut = lay.index[r["From"]] not in fed
            shut = r["ID"] in (self.state["ShutGates"] or []) or shut and r["ID"] not in (self.state["OpenGates"] or [])
            area = 0.62 * r["Gate"]["Leak"]
            if shut and area > 0:
                self.gate[i] = self.rho / 2 / area**2
            elif shut:
                self.dead.add(i)

    def leakage(self, spec):
        lay = self.lay
        for l in spec["Leaks"] or []:
            self.hole(lay.index[l["At"]], (l["Cd"] or 0.62) * l["Area"])
        for r in lay.runs:
            if r["LeakClass"] > 0:
                wall = sum(math.pi * p["Diameter"] * p["Length"] for p in r["Pieces"])
                self.seep(lay.index[r["To"]], r["LeakClass"] * wall, 0.65)

    def reach(self):
        """Numbers the unknowns: links and nodes that some way joins to the room."""
        seen = {l[0] for l in self.leaks}
        ends = {i: l for i, l in enumerate(self.links) if i not in self.dead}
        grew = True
        while grew:
            grew = False
            for a, b in ends.values():
                if (a == ROOM or b == ROOM or a in seen or b in seen) and not {a, b} <= seen | {ROOM}:
                    seen |= {a, b} - {ROOM}
                    grew = True
        self.live = [i for i, (a, b) in ends.items() if {a, b} <= seen | {ROOM}]
        self.at = {n: len(self.live) + k for k, n in enumerate(sorted(seen))}
        self.of = {i: k for k, i in enumerate(self.live)}
        self.legs_of = {}
        for leg in self.lay.legs:
            self.legs_of.setdefault(leg.link, []).append(leg)

    def fan(self, k, q):
        """Total suction that a collector holds at its inlet."""
        c = self.lay.spec["Collectors"][k]
        assert not c["CleanIncluded"] and not c["Discharge"]
        h = c["Curve"]["Shutoff"] * (1 - max(q, 0) ** 2 / c["Curve"]["FreeAir"] ** 2)
        h -= (c["Filter"]["Loaded"], c["Filter"]["Clean"])[self.state["Filter"]] * q
        dynamic = 0.0
        if c["Separator"]:
            dynamic += c["Separator"]["Heads"] * self.rho / 2 / c["Separator"]["Inlet"] ** 2
        if c["Meaning"] == 0:  # suction read at the wall
            dynamic += self.rho / 2 / circle(c["Inlet"]) ** 2
        return h - dynamic * max(q, 0) ** 2

    def fall(self, i, q, flow, wyes):
        lay = self.lay
        if i in self.resist:
            return self.resist[i] * q * abs(q)
        if i in lay.fans:
            dp = -self.fan(lay.fans.index(i), q)
        elif i < len(lay.runs):
            dp = self.gate[i] * q * abs(q)
            for piece, k in zip(lay.runs[i]["Pieces"], lay.k[i]):
                dp += duct(piece, k, self.air, q)
        else:
            dp = 0.0
        for leg in self.legs_of.get(i, []):
            dp += wyes * self.rho / 2 * leg.fall(q, flow(leg.common))
        return dp

    def residuals(self, x, wyes=1.0):
        """Pressure along every link and flow at every node, over their scales."""
        out = np.zeros(len(x))

        def flow(i):
            return FLOW * x[self.of[i]] if i in self.of else 0.0

        def total(n):
            return 0.0 if n == ROOM else PRESSURE * x[self.at[n]]

        for k, i in enumerate(self.live):
            a, b = self.links[i]
            q = FLOW * x[k]
            out[k] = (total(a) - total(b) - self.fall(i, q, flow, wyes)) / PRESSURE
            if a != ROOM:
                out[self.at[a]] -= x[k]
            if b != ROOM:
                out[self.at[b]] += x[k]
        for n, link, area, flow_at_1, exponent in self.leaks:
            static = total(n)
            if link >= 0:
                q = flow(link)
                static -= self.rho / 2 / area**2 * q * abs(q)
            out[self.at[n]] += leak(flow_at_1, exponent, static) / FLOW
        return out

    def tight(self, x):
        r = np.abs(self.residuals(x))
        n = len(self.live)
        pa = PRESSURE * r[:n].max(initial=0)
        mass = FLOW * r[n:].max(initial=0)
        return pa < TIGHT_PA and mass < TIGHT_FLOW, pa, mass

    def improve(self, x, wyes=1.0):
        for method, options in (("hybr", {"xtol": 1e-13, "maxfev": 40 * (len(x) + 1)}),
                                ("lm", {"xtol": 1e-14, "ftol": 1e-14, "maxiter": 60 * (len(x) + 1)})):
            r = root(self.residuals, x, args=(wyes,), method=method, options=options)
            if np.all(np.isfinite(r.x)) and np.abs(r.fun).max() < np.abs(self.residuals(x, wyes)).max():
                x = r.x
            if np.abs(self.residuals(x, wyes)).max() < 1e-11:
                break
        return x

    def random(self, seed):
        n, rng = len(self.live), np.random.default_rng(seed)
        return np.concatenate([rng.uniform(-3, 5, n), rng.uniform(-2, 0, len(self.at))])

    def by_wyes(self, seed):
        """From a random point, the wyes raised from nothing to what they are."""
        x = self.random(seed)
        for wyes in np.linspace(0, 1, 11):
            x = self.improve(x, wyes)
        return x

    def by_homotopy(self, seed):
        """From a random point, its residuals lowered step by step."""
        x = self.random(seed)
        first = self.residuals(x)
        for left in np.linspace(1, 0, 11)[1:]:
            x = root(lambda y, left=left: self.residuals(y) - left * first, x, method="hybr", options={"maxfev": 4000}).x
        return self.improve(x)

    def ours(self):
        """Our answer as a start; links inside points start at rest."""
        x = np.zeros(len(self.live) + len(self.at))
        lay = self.lay
        node_point = {n: p for p, n in enumerate(lay.own)}
        for n, k in self.at.items():
            # A node inside a point takes the pressure of the next point's own node.
            p = node_point[min(o for o in lay.own if o >= n)] if any(o >= n for o in lay.own) else 0
            x[k] = self.state["Pressures"][p] / PRESSURE
        for k, i in enumerate(self.live):
            x[k] = self.state["Flows"][i] / FLOW if i < len(lay.runs) else 0.1
            if i in self.resist:
                p = PRESSURE * x[self.at[self.links[i][1]]]
                x[k] = math.copysign(math.sqrt(abs(p) / self.resist[i]), -p) / FLOW
        return self.improve(x)

    def flows(self, x):
        return [FLOW * x[self.of[i]] if i in self.of else 0.0 for i in range(len(self.lay.runs))]

    def pressures(self, x):
        """Total pressure of the points; all are joined to the room in some way."""
        return [PRESSURE * x[self.at[n]] for n in self.lay.own]

    def directions(self, x):
        """How many legs stand at wyes whose air goes each way."""
        q = {i: FLOW * x[k] for i, k in self.of.items()}
        ways = {}
        for leg in self.lay.legs:
            m, b = leg.flows(q.get(leg.link, 0.0), q.get(leg.common, 0.0))
            if leg.link in self.of and max(abs(m), abs(b)) > 1e-6:
                way = leg.wye.direction(m, b)
                ways[way] = ways.get(way, 0) + 1
        return dict(sorted(ways.items()))


def answer(case):
    """The answer that most own starts come to, and which start came where.

    A start is given by the number of the answer it came to, None where to none.
    """
    found = []

    def number(x):
        if not case.tight(x)[0]:
            return None
        q = np.array(case.flows(x))
        for i, (f, _) in enumerate(found):
            if np.abs(f - q).max() < SAME:
                return i
        found.append((q, x))
        return len(found) - 1

    by_wyes = [number(case.by_wyes(seed)) for seed in range(OWN_STARTS)]
    by_homotopy = [number(case.by_homotopy(seed)) for seed in range(OWN_STARTS)]
    own = [a for a in by_wyes + by_homotopy if a is not None]
    starts = {"by_wyes": by_wyes, "by_homotopy": by_homotopy, "ours": number(case.ours())}
    assert own, f"no own start came to an answer: {starts}"
    best = max(sorted(set(own)), key=own.count)
    x = found[best][1]
    _, pa, mass = case.tight(x)
    return {"starts": starts, "answer": best, "residual_pa": pa, "residual_m3s": mass, "directions": case.directions(x),
            "flows": [round(q, 14) for q in case.flows(x)], "pressures": [round(p, 9) for p in case.pressures(x)],
            "others": [f.tolist() for i, (f, _) in enumerate(found) if i != best]}


def main():
    networks = []
    for shop in json.load(open(sys.argv[1])):
        states = []
        for state in shop["States"]:
            a = answer(Case(shop, state))
            states.append({"state": state["Name"], **a})
            dq = np.abs(np.array(a["flows"]) - state["Flows"]).max()
            dp = np.abs(np.array(a["pressures"]) - state["Pressures"]).max()
            print(f"{shop['Spec']['Name']:20} {state['Name']:4} {dq:8.1e} m3/s {dp:8.1e} Pa", *a["starts"].values(), file=sys.stderr)
        networks.append((shop["Spec"]["Name"], states))
    # A state on a line.
    print(json.dumps({"source": f"computed by SciPy {scipy.__version__} (testdata/peers/loops)", "python": platform.python_version(),
                      "numpy": np.__version__, "scipy": scipy.__version__})[:-1] + ', "networks": [')
    print(",\n".join(f'{{"name": {json.dumps(name)}, "states": [\n' + ",\n".join(map(json.dumps, states)) + "]}" for name, states in networks))
    print("]}")


if __name__ == "__main__":
    main()
