// The season report in a browser.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { evil } from "./made.mjs";
import { holdsForEveryPage, open, showsAsText, test } from "./browser.mjs";

/** A store of small sets, each with eight runs; one is going wrong. */
export function store(workshop, name, units) {
  const file = workshop.path(name);
  const run = (...args) => execFileSync(workshop.program, args, { stdio: "ignore" });
  units.forEach((unit, i) => {
    const log = workshop.path(`${name}-${i}.csv`);
    const profile = workshop.path(`${name}-${i}.toml`);
    run("simulate", "--preset", "three-40", "--seed", String(i + 1), "--duration", "35m", "--interval", "10",
      "--start", `2026-05-0${i + 1}T07:00:00Z`, "--runs", "8", "--every", "5d",
      ...(i === 1 ? ["--fault", "exhaust-climb@2d:20:20d"] : []), "--out", log, "--profile-out", profile);
    run("season", "add", log, "--profile", profile, "--unit", unit, "--store", file);
  });
  return file;
}

export async function seasonPage(workshop) {
  const fleet = store(workshop, "fleet.db", ["Grebe", "Dipper", "Knot", "Little Auk", "Sandpiper"]);
  const address = workshop.page("season.html", ["season", "report", "--store", fleet]);
  await holdsForEveryPage("season", address);

  await test("season: a small picture for each figure of each set, with its scale", async () => {
    const { page, context } = await open(address, { width: 390 });
    const figures = await page.locator(".small figure").count();
    assert.ok(figures >= 5 * 6);
    assert.equal(await page.locator(".small svg text").count(), 2 * figures);
    const narrow = await page.evaluate(() => Math.min(...[...document.querySelectorAll(".small svg")]
      .map((e) => e.getBoundingClientRect().width)));
    assert.ok(narrow > 120, `${narrow} pixels`);
    await context.close();
  });
  await test("season: markup in a set's name is text", async () => {
    const bad = store(workshop, "bad.db", [evil("name")]);
    await showsAsText(workshop.page("bad_season.html", ["season", "report", "--store", bad]), ["ran=", "onerror"]);
  });
}
