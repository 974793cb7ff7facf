// Makes the pictures of docs/pictures from demo logs.
//
// node pictures.mjs PROGRAM
import { mkdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { open, start, stop, wakeAll } from "./browser.mjs";
import { Workshop } from "./made.mjs";
import { store } from "./season_page.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
const data = (name) => join(root, "datasets", name);
const out = join(root, "docs/pictures");
const mostBytes = 150_000;

const workshop = new Workshop(process.argv[2]);
mkdirSync(out, { recursive: true });
await start();

/** What the elements cover, with a little room around. */
async function take(page, name, elements, height = Infinity) {
  const boxes = [];
  for (const element of elements) boxes.push(await page.locator(element).first().boundingBox());
  const left = Math.max(0, Math.min(...boxes.map((b) => b.x)) - 12);
  const top = Math.max(0, Math.min(...boxes.map((b) => b.y)) - 12);
  const clip = {
    x: left, y: top,
    width: Math.max(...boxes.map((b) => b.x + b.width)) + 12 - left,
    height: Math.min(height, Math.max(...boxes.map((b) => b.y + b.height)) + 12 - top),
  };
  const path = join(out, `${name}.png`);
  await page.screenshot({ path, clip, fullPage: true });
  const bytes = statSync(path).size;
  console.log(`${name}.png ${bytes} bytes`);
  if (bytes > mostBytes) throw new Error(`${name}.png is larger than ${mostBytes} bytes`);
}

try {
  const health = workshop.page("health.html", ["report", data("faults/exhaust-jump/sandpiper.csv"),
    "--profile", data("profiles/sandpiper.toml")]);
  {
    const { page, context } = await open(health, { width: 1040 });
    await wakeAll(page);
    await take(page, "finding", [".finding"], 640);
    await take(page, "run", [".run h2", ".run .charts"], 720);
    await context.close();
  }
  {
    const { page, context } = await open(health, { width: 390, scheme: "dark" });
    await wakeAll(page);
    await take(page, "phone", ["body"], 844);
    await context.close();
  }
  {
    const journal = workshop.page("alarms.html", ["alarms", data("alarms/lapwing-quay.csv")]);
    const { page, context } = await open(journal, { width: 1040 });
    await take(page, "alarms", ["h1", ".sheet"]);
    await context.close();
  }
  {
    const fleet = store(workshop, "fleet.db", ["Grebe", "Dipper", "Knot", "Little Auk", "Sandpiper"]);
    const season = workshop.page("season.html", ["season", "report", "--store", fleet]);
    const { page, context } = await open(season, { width: 1040 });
    await take(page, "season", ["h1", ".set"], 900);
    await context.close();
  }
} finally {
  await stop();
  workshop.close();
}
