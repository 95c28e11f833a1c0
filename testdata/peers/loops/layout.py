"""The nodes and links of a network, from its description.

A point is a row of nodes with links of no length between them: the runs in come
together wye after wye, then the runs out part one after the other, the main run
out last. Where air enters at a point, it enters at the last node of the coming
together. A wye's law takes the flow of its leg and that of its common duct; the
other leg is the difference.
"""
from laws import circle, elbow, junction, taper

ROOM = -1


class Leg:
    """What a link loses at a wye: by is -1 where the wye is met backward."""

    def __init__(self, link, common, wye, main, by):
        self.link, self.common, self.wye, self.main, self.by = link, common, wye, main, by

    def fall(self, q, qc):
        return self.by * self.wye.falls(*self.flows(q, qc))[0 if self.main else 1]

    def flows(self, q, qc):
        """Main and branch as the wye has them, from the link and the common duct."""
        own, other = self.by * q, self.by * (qc - q)
        return (own, other) if self.main else (other, own)


class Layout:
    def __init__(self, shop):
        self.spec, self.joints = shop["Spec"], shop["Joints"]
        spec = self.spec
        self.runs, self.points = spec["Runs"], spec["Points"]
        self.index = {p["ID"]: i for i, p in enumerate(self.points)}
        self.home = [self.index[c["At"]] for c in spec["Collectors"]]
        self.links = [[None, None] for _ in self.runs]  # [from, to]; runs first
        self.fans = []
        for p in self.home:  # one collector at each point
            self.fans.append(len(self.links))
            self.links.append([None, ROOM])
        assert len(set(self.home)) == len(self.home)
        self.nodes, self.legs = 0, []
        self.own, self.leaving, self.out_area, self.way_out = [], [], [], []
        self.k = [[p["K"] for p in r["Pieces"]] for r in self.runs]
        for i, corners in enumerate(shop["Corners"]):
            self.run_losses(i, corners or [])
        for p in range(len(self.points)):
            self.point(p)

    def run_losses(self, i, corners):
        """Coefficients of a run but for its ends, each on one piece."""
        r, k = self.runs[i], self.k[i]
        made, over = r["Pieces"], r["K"]
        if over["Bends"] is not None:
            k[-1] += over["Bends"]
        else:
            k[-1] += sum(elbow(made[-1]["Make"], d) for d in corners)
        assert over["Steps"] is None
        for j in range(1, len(made)):
            a, b = made[j - 1]["Diameter"], made[j]["Diameter"]
            k[j - 1 if a < b else j] += taper(a, b)
        if r["Gate"]:
            k[-1] += r["Gate"]["Open"]

    def node(self):
        self.nodes += 1
        return self.nodes - 1

    def zero(self, a, b):
        self.links.append([a, b])
        return len(self.links) - 1

    def last(self, r):
        return self.runs[r]["Pieces"][-1]["Diameter"]

    def first(self, r):
        return self.runs[r]["Pieces"][0]["Diameter"]

    def point(self, p):
        name = self.points[p]["ID"]
        ins = [i for i, r in enumerate(self.runs) if r["To"] == name]
        outs = [i for i, r in enumerate(self.runs) if r["From"] == name]
        joints = [j for j in self.joints if j["Point"] == name]
        meet = [j for j in joints if not j["Splits"]]
        if p in self.home:
            way, main = -1, self.fans[self.home.index(p)]
        elif meet:
            way = main = meet[0]["Common"]
        else:  # no run in: the widest, of equals the first
            way = main = max(outs, key=self.first) if outs else -1
        self.way_out.append(way)
        outs = [r for r in outs if r != way]
        legs = ([meet[0]["Main"]] if meet else []) + [j["Branch"] for j in meet if j["Branch"] >= 0]
        assert sorted(legs) == sorted(ins)

        row = [self.node() for _ in range(max(1, len(legs) - 1))]
        self.own.append(row[-1])
        between = [self.zero(a, b) for a, b in zip(row, row[1:])]
        at, common = row[-1], main
        if outs and len(legs) > 1:
            at = self.node()
            common = self.zero(row[-1], at)
        self.leaving.append(common if len(legs) > 1 else main)
        # The duct that leaves the point.
        if way >= 0:
            self.out = self.first(way)
        elif p in self.home:
            self.out = self.spec["Collectors"][self.home.index(p)]["Inlet"]
        else:
            self.out = self.last(ins[0]) if ins else None  # a dead end: the first in the file
        self.out_area.append(circle(self.out) if self.out else None)

        calm = bool(legs) and self.runs[legs[0]]["K"]["Junction"] is not None
        for k, j in enumerate(meet):
            into = between[k] if k < len(between) else common
            for r in (j["Main"], j["Branch"]):
                if r >= 0:
                    self.links[r][1] = row[k]
            if into < 0:
                continue  # a dead end
            if k > 0 and not calm:
                self.wye(j, between[k - 1], None, into)
            for r in (j["Main"], j["Branch"]):
                if r >= 0:
                    self.end(j, r, into)
        self.part(joints[len(meet):], at, legs[0] if len(legs) == 1 else common, main, outs, legs, way)

    def end(self, j, r, into):
        """What a run loses where it comes to a point."""
        over, make = self.runs[r]["K"], self.runs[r]["Pieces"][-1]["Make"]
        main = r == j["Main"]
        k = 0.0
        if not main and over["Bends"] is None:
            k += elbow(make, j["BranchBend"])
        if over["Junction"] is not None:
            self.k[r][-1] += k + over["Junction"]
            return
        if main:
            if over["Bends"] is None:
                k += elbow(make, j["MainBend"])
            d = self.last(r)
            if j["Branch"] < 0 or d > self.out:
                # The taper stands on the small duct, k on the run.
                k += taper(d, self.out) * (d / min(d, self.out)) ** 4
        self.k[r][-1] += k
        if j["Branch"] >= 0:
            self.wye(j, r, r, into)

    def wye(self, j, link, r, into):
        ac = circle(self.out)
        am = min(circle(self.last(j["Main"])), ac) if j["Main"] >= 0 else ac
        law = junction(circle(self.last(j["Branch"])), am, ac, j["WyeDegrees"])
        self.legs.append(Leg(link, into, law, r != j["Branch"], 1))

    def part(self, splits, at, common, main, outs, legs, way):
        """Runs out part from the common duct, the main last."""
        # The wye is as wide as the main that leaves.
        d = self.out
        splits = iter(splits)
        for k, r in enumerate(outs):
            self.links[r][0] = at
            through = main
            if k + 1 < len(outs):
                onward = self.node()
                through = self.zero(at, onward)
                at = onward
            if not legs or common < 0:
                continue
            j = next(splits)
            assert j["Branch"] == r
            if self.runs[r]["K"]["Bends"] is None:
                self.k[r][0] += elbow(self.runs[r]["Pieces"][0]["Make"], j["BranchBend"])
            ac = circle(d)
            am = circle(self.first(j["Main"])) if j["Main"] >= 0 else ac
            law = junction(circle(self.first(r)), min(am, ac), ac, j["WyeDegrees"])
            self.legs.append(Leg(r, common, law, False, -1))
            if through >= 0:
                self.legs.append(Leg(through, common, law, True, -1))
            common = through
        if main >= 0:
            self.links[main][0] = at
