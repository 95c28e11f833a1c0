// Times the engine of the npm package epanet-js on the trees that ./trees wrote
// and prints its times beside ours.
// Usage: node bench.mjs FOLDER_OF_PACKAGE FOLDER_OF_TREES OURS.jsonl [ENGINE]
// ENGINE is one of the builds in the package, v2.2 if none is named.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

const [folder, trees, ours, engine = "v2.2"] = process.argv.slice(2);
const require = createRequire(join(resolve(folder), "from.cjs"));
const { Project, InitHydOption, LinkProperty, Option, AnalysisStatistic } = require("epanet-js");
const { Workspace } = require("epanet-js/slim");

// median is the median time of one solve over 201 batches, in µs; see the
// function of the same name in trees/main.go.
function median(runs, solve) {
  const batches = 201;
  const batch = Math.max(2, Math.floor(4000 / runs / 2) * 2);
  const us = [];
  for (let b = -1; b < batches; b++) {
    const start = process.hrtime.bigint();
    for (let i = 0; i < batch; i++) solve(i & 1);
    if (b >= 0) us.push(Number(process.hrtime.bigint() - start) / 1000 / batch);
  }
  return us.sort((a, b) => a - b)[batches >> 1];
}

// apart is the largest difference of two lists of flows, each relative to the
// second list's own value.
const apart = (a, b) => Math.max(...a.map((x, i) => Math.abs(x - b[i]) / Math.abs(b[i])));

async function tree(engine, ours, accuracy) {
  const ws = new Workspace();
  const path = require.resolve(`epanet-js/engines/${engine}`);
  const wasmBinary = readFileSync(join(dirname(path), "EpanetEngine.wasm"));
  await ws.loadModuleVersion(() => require(path).EpanetEngine({ wasmBinary }));
  const p = new Project(ws);
  ws.writeFile("tree.inp", readFileSync(join(trees, ours.file)));
  p.open("tree.inp", "tree.rpt", "tree.out");
  p.setOption(Option.Accuracy, accuracy);
  p.openH();

  // Inside the timing the engine's functions are called without the package's
  // checks of arguments, so that only the engine's work counts.
  const raw = ws.instance;
  const handle = p._projectHandle;
  const time = raw._malloc(8);
  const line = p.getCurveIndex("LINE");
  const { flow, loaded, clean } = ours.filters;
  const check = (code) => {
    if (code !== 0) throw new Error(`engine ${engine}, ${ours.file}: code ${code}`);
  };
  const filter = (i) => check(raw._EN_setcurvevalue(handle, line, 2, flow, i ? clean : loaded));
  const warm = (i) => {
    filter(i);
    check(raw._EN_runH(handle, time));
  };
  const cold = (i) => {
    filter(i);
    check(raw._EN_initH(handle, InitHydOption.InitFlow));
    check(raw._EN_runH(handle, time));
  };
  const links = ours.loaded.map((_, i) => p.getLinkIndex(`R${i + 1}`));
  const flows = () => links.map((i) => p.getLinkValue(i, LinkProperty.Flow));
  const trials = () => p.getStatistic(AnalysisStatistic.Iterations);

  cold(0);
  let worst = apart(flows(), ours.loaded);
  cold(1);
  worst = Math.max(worst, apart(flows(), ours.clean));
  const steps = [trials()];
  warm(0);
  worst = Math.max(worst, apart(flows(), ours.loaded));
  warm(1);
  worst = Math.max(worst, apart(flows(), ours.clean));
  steps.push(trials());

  const result = { cold: median(ours.runs, cold), warm: median(ours.runs, warm), steps, worst };
  p.closeH();
  p.close();
  return result;
}

const row = (cells) => console.log("| " + cells.join(" | ") + " |");
const us = (x) => x.toFixed(x < 100 ? 1 : 0);
row(["runs", "ours cold, µs", "ours warm", "steps", "whole physics, cold", "warm", "accuracy", "engine cold, µs", "engine warm", "trials", "ratio cold", "ratio warm", "flows apart"]);
row(Array(13).fill("---"));
for (const text of readFileSync(ours, "utf8").trim().split("\n")) {
  const o = JSON.parse(text);
  for (const accuracy of [1e-3, 1e-5]) {
    const e = await tree(engine, o, accuracy);
    row([o.runs, us(o.cold_us), us(o.warm_us), o.steps.join(", "), us(o.whole_cold_us), us(o.whole_warm_us), accuracy, us(e.cold), us(e.warm), e.steps.join(", "),
      (e.cold / o.cold_us).toFixed(2), (e.warm / o.warm_us).toFixed(2), e.worst.toExponential(1)]);
    if (!(e.worst < 1e-3)) {
      console.error(`${o.file}: the two do not agree, so the times cannot be compared`);
      process.exitCode = 1;
    }
  }
}
