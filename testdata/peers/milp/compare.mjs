// Solves every model by HiGHS and compares the optimum with ours.
// Usage: node compare.mjs FOLDER (made by run.sh)
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const folder = process.argv[2];
const load = createRequire(join(folder, "package.json"))("highs");
const rows = readFileSync(join(folder, "ours.csv"), "utf8").trim().split("\n").slice(1).map((l) => l.split(","));
let wrong = 0;
let open = 0;
const times = { ours: [], theirs: [] };
console.log("| model | runs | loadings | optimum | ours, ms | HiGHS, ms |\n| --- | --- | --- | --- | --- | --- |");
for (const [name, runs, loadings, status, cost, , seconds] of rows) {
  const model = readFileSync(join(folder, name + ".lp"), "utf8");
  const highs = await load(); // a new one each time: an instance may keep memory
  const start = performance.now();
  const answer = highs.solve(model, { mip_rel_gap: 0, mip_abs_gap: 0, mip_feasibility_tolerance: 1e-9, primal_feasibility_tolerance: 1e-9, time_limit: 60 });
  const theirs = performance.now() - start;
  const value = answer.Status === "Optimal" ? String(Math.round(answer.ObjectiveValue)) : answer.Status;
  const own = status === "optimal" ? cost : status;
  if (answer.Status === "Optimal" || answer.Status === "Infeasible") {
    if (value.toLowerCase() !== own) {
      wrong++;
      console.error(`${name}: ours ${own}, HiGHS ${value}`);
    }
  } else {
    open++;
  }
  const ours = 1000 * Number(seconds);
  times.ours.push(ours);
  times.theirs.push(theirs);
  console.log(`| ${name} | ${runs} | ${loadings} | ${own} | ${ours.toFixed(2)} | ${theirs.toFixed(1)} |`);
}
const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
console.log(`\n${rows.length} models, ${wrong} differ, ${open} not finished by HiGHS; median ${median(times.ours).toFixed(2)} ms ours, ` +
  `${median(times.theirs).toFixed(1)} ms HiGHS; in all ${(times.ours.reduce((a, b) => a + b) / 1000).toFixed(2)} s and ` +
  `${(times.theirs.reduce((a, b) => a + b) / 1000).toFixed(2)} s`);
process.exitCode = wrong > 0 ? 1 : 0;
