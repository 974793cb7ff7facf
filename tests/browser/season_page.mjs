// The season report in a browser.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { evil } from "./made.mjs";
import { holdsForEveryPage, open, showsAsText, test } from "./browser.mjs";

/** A store of sets of one kind, each with twenty runs; the second loses oil pressure. */
export function store(workshop, name, units) {
  const file = workshop.path(name);
  const run = (...args) => execFileSync(workshop.program, args, { stdio: "ignore" });
  units.forEach((unit, i) => {
    const log = workshop.path(`${name}-${i}.csv`);
    const profile = workshop.path(`${name}-${i}.toml`);
    run("simulate", "--preset", "three-40", "--seed", String(i + 1), "--duration", "50m", "--interval", "15",
      "--start", `2026-05-0${i + 1}T07:00:00Z`, "--runs", "20", "--every", "2d",
      ...(i === 1 ? ["--fault", "oil-pressure-fade@3d:30:30d"] : []), "--out", log, "--profile-out", profile);
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
  await test("season: what to book first leads to its set, where the figure is framed", async () => {
    const { page, context } = await open(address);
    const link = page.locator("ol.book a").first();
    assert.equal(await link.innerText(), "Dipper");
    const set = page.locator(await link.getAttribute("href"));
    assert.ok(await set.locator("figure.told").count() > 0);
    assert.equal(await page.locator("figure.told").count(), await set.locator("figure.told").count());
    await context.close();
  });
  await test("season: markup in a set's name is text", async () => {
    const bad = store(workshop, "bad.db", [evil("name")]);
    await showsAsText(workshop.page("bad_season.html", ["season", "report", "--store", bad]), ["ran=", "onerror"]);
  });
}
