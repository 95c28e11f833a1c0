"""Changes a workbook, and holds the totals that a spreadsheet calculated against
those of a bill. Called by .ci/workbook:

  workbook.py change FROM.xlsx TO.xlsx
  workbook.py NAME REDESIGN FOLDER [changed]

REDESIGN is a folder that redesign wrote, with the bill as `parts --json` prints
it in bill.json beside.
"""

import csv
import glob
import json
import math
import re
import sys
import zipfile
from fractions import Fraction

# What is changed: the rate and the waste, the first price, and the quantity of
# the first line.
RATE, WASTE, PRICE, QTY = 4321, "0.11", 1234, 9


def change(source, target):
    """Writes new numbers into four cells and nothing else."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        sheets = dict(zip(re.findall(r'<sheet name="(\w+)"', old.read("xl/workbook.xml").decode()), range(1, 99)))
        cells = {"Summary": {"B6": RATE / 100, "B7": WASTE}, "Prices": {"C5": PRICE / 100}, "Parts": {"D5": QTY}}
        for name in old.namelist():
            data = old.read(name).decode()
            for sheet, values in cells.items():
                if name != f"xl/worksheets/sheet{sheets[sheet]}.xml":
                    continue
                for cell, value in values.items():
                    data, n = re.subn(rf'(<c r="{cell}"[^>]*><v>)[^<]*', rf"\g<1>{value}", data)
                    assert n == 1, (sheet, cell)
            new.writestr(name, data)


def half_up(x):
    """Rounds to whole cents as the tool does: half up, with a grain."""
    return math.floor(x + Fraction(1, 2) + Fraction(1, 10**6))


def item(row):
    return row["kind"], row.get("family", ""), tuple(row.get("sizes") or [])


def expected(bill, changed, foot):
    """The planning total and the shop total, from the lines of the bill. Where
    foot is true the workbook shows lengths in feet."""
    goods = [r for r in bill["rows"] if r["action"] == "buy" and not r["unpriced"] and not r.get("spare")]
    price = {item(r): (r["price_minor"], Fraction(r["price_per_quantity"])) for r in goods}
    rate = RATE if changed else bill["labour_rate_minor_per_h"]
    if changed:
        first = item([r for r in bill["rows"] if r["action"] == "buy"][0])
        price[first] = PRICE, price[first][1]
    parts = labour = 0
    need, net, bought = {}, {}, [l for l in bill["lines"] if l["action"] == "buy"]
    for n, l in enumerate(bought):
        qty, waste = Fraction(l["quantity"]), Fraction(l.get("waste_ratio", 0))
        if changed and n == 0:
            qty = QTY * (Fraction("0.3048") if foot and l["quantity_unit"] == "m" else Fraction(1))
        if changed and waste:
            waste = Fraction(WASTE)
        net[item(l)] = net.get(item(l), 0) + qty
        need[item(l)] = need.get(item(l), 0) + qty * (1 + waste)
        if item(l) in price:
            m, per = price[item(l)]
            parts += half_up(m * qty * (1 + waste) / per)
    for l in bill["lines"]:
        if l["action"] == "work":
            labour += half_up(rate * Fraction(l["work_h"]))
    sticks = {}
    for s in bill["cut_list"]:
        k = "pipe", s["family"], (s["size"],)
        sticks[k] = sticks.get(k, 0) + 1
    shelf = 0
    for r in goods:
        m, per = price[item(r)]
        size = Fraction(r["shelf_size"])
        n, spare = math.ceil(need[item(r)] / size - Fraction(1, 10**9)), 0
        if item(r) in sticks:  # the cut list has the waste, or what waste asks for is spare
            least = max(sticks[item(r)], math.ceil(net[item(r)] / size - Fraction(1, 100)))
            n, spare = least, max(n - least, 0)
        if r["kind"] == "coupling":
            spare = n // 10
        if r["kind"] == "sealant" and r["shelf_unit"] == "tube":
            spare = 1
        shelf += half_up(m * (n + spare) * size / per)
    return parts + labour, shelf + labour + bill["freight_minor"]


def calculated(folder):
    """The same two totals as the spreadsheet has them, in cents."""
    name = glob.glob(f"{folder}/*-Summary.csv")[0]
    with open(name, encoding="utf-8") as f:
        rows = {r[0]: r[1] for r in csv.reader(f) if len(r) > 1}
    for sheet in glob.glob(f"{folder}/*.csv"):
        with open(sheet, encoding="utf-8") as f:
            for n, r in enumerate(csv.reader(f), 1):
                for c in r:
                    assert not c.startswith(("#", "Err:")), f"{sheet}, row {n}: {c}"
    return tuple(round(100 * float(rows[k])) for k in ("Planning total", "Shop total"))


def main():
    if sys.argv[1] == "change":
        return change(*sys.argv[2:])
    name, path, folder = sys.argv[1:4]
    with open(f"{path}/bill.json", encoding="utf-8") as f:
        bill = json.load(f)
    with open(f"{path}/plan.json", encoding="utf-8") as f:
        foot = json.load(f)["units"] == "us"
    changed = len(sys.argv) > 4
    told = bill["planning_cost_minor"], bill["shelf_total_minor"]
    want = expected(bill, changed, foot)
    got = calculated(folder)
    print(f"{name}: LibreOffice has {got[0]/100:.2f} and {got[1]/100:.2f}, wanted {want[0]/100:.2f} and {want[1]/100:.2f}")
    if not changed and want != told:
        sys.exit(f"{name}: the lines add up to {want}, parts says {told}")
    if changed and (want[0] == told[0] or want[1] == told[1]):
        sys.exit(f"{name}: the change changes nothing: choose another")
    if got != want:
        sys.exit(f"{name}: the totals differ")


main()
