// Solves every model by HiGHS and compares optimum and time with ours.
// Usage: node compare.mjs FOLDER (made by run.sh)
//
// Timed is the solving alone, the least of three: model.run() here, the model
// read before, in one runtime that has solved one model untimed; Solve there.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const folder = process.argv[2];
const highs = await createRequire(join(folder, "package.json"))("highs")();
const options = { output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0, mip_feasibility_tolerance: 1e-9, primal_feasibility_tolerance: 1e-9, time_limit: 60 };
const statuses = { 7: "optimal", 8: "infeasible" }; // of HiGHS's interface for C

// solve returns what HiGHS finds and the milliseconds that it ran.
function solve(data) {
  return highs.withModel({ format: "lp", data }, (model) => {
    model.options.set(options);
    const start = performance.now();
    const { modelStatus } = model.run();
    const ms = performance.now() - start;
    return { status: statuses[modelStatus] ?? `status ${modelStatus}`, cost: model.getObjectiveValue(), ms };
  });
}

const rows = readFileSync(join(folder, "ours.csv"), "utf8").trim().split("\n").slice(1).map((l) => l.split(","));
const text = (name) => readFileSync(join(folder, name + ".lp"), "utf8");
let wrong = 0;
let open = 0;
const times = [];
solve(text(rows[0][0]));
console.log("| model | runs | loadings | optimum | ours, ms | HiGHS, ms | HiGHS / ours |\n| --- | --- | --- | --- | --- | --- | --- |");
for (const [name, runs, loadings, status, cost, , seconds] of rows) {
  const data = text(name);
  const answers = [solve(data), solve(data), solve(data)];
  const own = status === "optimal" ? cost : status;
  const found = answers[0].status === "optimal" ? String(Math.round(answers[0].cost)) : answers[0].status;
  if (!(answers[0].status in { optimal: 0, infeasible: 0 })) {
    open++;
  } else if (found !== own) {
    wrong++;
    console.error(`${name}: ours ${own}, HiGHS ${found}`);
  }
  const pair = { ours: 1000 * Number(seconds), theirs: Math.min(...answers.map((a) => a.ms)), several: Number(loadings) > 1 };
  times.push(pair);
  console.log(`| ${name} | ${runs} | ${loadings} | ${own} | ${pair.ours.toFixed(2)} | ${pair.theirs.toFixed(1)} | ${(pair.theirs / pair.ours).toFixed(1)} |`);
}

const sum = (list) => list.reduce((a, b) => a + b, 0);
const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
function summary(what, list) {
  if (list.length === 0) return;
  const ours = list.map((t) => t.ours);
  const theirs = list.map((t) => t.theirs);
  const ratios = list.map((t) => t.theirs / t.ours);
  console.log(`${what}: ${list.length} models; in all ${(sum(ours) / 1000).toFixed(2)} s ours, ${(sum(theirs) / 1000).toFixed(2)} s HiGHS, ` +
    `ratio ${(sum(theirs) / sum(ours)).toFixed(1)}; ratio of each: median ${median(ratios).toFixed(1)}, ` +
    `${Math.min(...ratios).toFixed(2)} to ${Math.max(...ratios).toFixed(0)}; HiGHS is faster on ${ratios.filter((r) => r < 1).length}`);
}
console.log("");
summary("one loading", times.filter((t) => !t.several));
summary("three loadings", times.filter((t) => t.several));
summary("all", times);
console.log(`${rows.length} models: ${wrong} differ, ${open} not finished by HiGHS. Counted: the solving alone, the least of three, no reading or writing of models.`);
process.exitCode = wrong + open > 0 ? 1 : 0;
