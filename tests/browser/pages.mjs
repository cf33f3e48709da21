// The pages that are looked at: one of every kind, and every demo.
import { execFileSync } from "node:child_process";
import { readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const DEMOS = "problems-demo";
const LOW = join(DEMOS, "low-strength.toml");
const STIRRED = join(DEMOS, "stirred-budget.toml");
const SWAP = join(DEMOS, "sweetener-swap.toml");
const HOSTILE = join("tests", "browser", "hostile.toml");

// Name, arguments, exit status.
function runs() {
  // A house is no brief.
  const demos = readdirSync(DEMOS).filter((file) => file.endsWith(".toml") && file !== "house.toml").sort();
  if (demos.length === 0) throw new Error(`no demo in ${DEMOS}`);
  const specs = demos.map((file) => {
    const name = file.slice(0, -".toml".length);
    return [`spec-${name}`, ["spec", join(DEMOS, file)], name === "too-much" ? 1 : 0];
  });
  return [
    ...specs,
    ["spec-ounces", ["spec", LOW, "--units", "oz"], 0],
    ["spec-swap", ["spec", SWAP, "--swap", "sugar syrup 1:1=fructose syrup"], 0],
    ["substitutes", ["spec", SWAP, "--swap", "sugar syrup 1:1=?"], 0],
    ["spec-hostile", ["spec", HOSTILE], 0],
    ["check-missed", ["check", LOW, "50 ml aged rum, 25 ml lime juice, 12.5 ml bay syrup"], 1],
    ["check-met", ["check", SWAP, "50 ml gin, 25 ml lemon juice, 22.5 ml sugar syrup 1:1"], 0],
    ["batch-undiluted", ["batch", STIRRED, "--serves", "40"], 0],
    ["batch-diluted", ["batch", LOW, "--make", "10 l", "--dilute", "--bottle", "700 ml"], 0],
    ["sweep-strength", ["sweep", LOW, "--over", "targets.strength.max=8..16", "--steps", "17"], 0],
    ["sweep-gaps", ["sweep", STIRRED, "--over", "targets.pour_cost.max=12..26", "--steps", "15"], 0],
    ["sweep-hostile", ["sweep", HOSTILE, "--over", "targets.strength.max=5..9", "--steps", "5"], 0],
  ];
}

// Writes every page with the program and says where.
export function pages(program, folder) {
  return runs().map(([name, args, status]) => {
    const file = join(folder, `${name}.html`);
    let ended = 0;
    let said = "";
    try {
      execFileSync(program, [...args, "--report", file], { stdio: ["ignore", "ignore", "pipe"] });
    } catch (error) {
      ended = error.status;
      said = String(error.stderr ?? error);
    }
    if (ended !== status) throw new Error(`${name}: ended with ${ended} instead of ${status}\n${said}`);
    return { name, file };
  });
}

// A page with one fault for each check: a check that passes it sees nothing.
export function faulty(folder) {
  const file = join(folder, "faulty.html");
  const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Faults</title></head><body><main>
    <h1>Faults</h1><p style="width:3000px">Too wide</p><img src="elsewhere.png">
    <p style="color:#999;background:#fff">Too pale</p>
    <svg width="0" height="10"></svg>
    <svg width="200" height="40"><text x="5" y="20" font-size="15">one</text><text x="8" y="22" font-size="15">on it</text></svg>
    <p class="said" style="margin-top:3000px;font-size:9px">Far down and small</p><a href="#there">x</a>
    <div class="spec">Of another row</div><input type="radio" id="pick-0"><input type="radio" id="pick-1">
    <svg width="200" height="40"><text x="180" y="20" font-size="15">cut off</text></svg>
    <svg width="200" height="40"><text x="5" y="20" font-size="5">tiny</text></svg>
    </main><!--${"x".repeat(200_000)}--><script>console.error("fault")</script></body></html>`;
  writeFileSync(file, html);
  return { name: "faulty", file };
}
