// The health report in a browser.
import assert from "node:assert/strict";
import { copyFileSync } from "node:fs";
import { evil } from "./made.mjs";
import { holdsForEveryPage, open, showsAsText, test, wakeAll } from "./browser.mjs";

export async function healthPage(workshop) {
  const oil = workshop.log("oil", "oil-pressure-fade");
  const hot = workshop.log("hot", "coolant-climb");
  const flood = workshop.log("flood", "alarm-flood");
  const one = workshop.page("one.html", ["report", oil.log, "--profile", oil.profile]);
  const many = workshop.page("many.html", ["report", oil.log, hot.log, flood.log]);

  await holdsForEveryPage("health", one, { live: true });
  await holdsForEveryPage("health_many", many, { live: true });

  await test("health: every chart is drawn", async () => {
    const { page, context } = await open(one);
    await wakeAll(page);
    const figures = await page.locator("[data-track]").count();
    assert.ok(figures >= 5);
    assert.equal(await page.locator("[data-track] .plot canvas").count(), figures * 2);
    // A canvas that nothing was drawn on has no colour anywhere.
    const blank = await page.evaluate(() => [...document.querySelectorAll(".plot canvas:first-child")]
      .filter((c) => !c.getContext("2d").getImageData(0, 0, c.width, c.height).data.some((v) => v !== 0)).length);
    assert.equal(blank, 0);
    await context.close();
  });
  await test("health: zoom goes through all charts of a run, by keyboard too", async () => {
    const { page, context } = await open(one);
    await wakeAll(page);
    const labels = () => page.locator("[data-track] .dygraph-axis-label-x").allTextContents();
    const before = await labels();
    await page.locator('[data-do="in"]').first().focus();
    await page.keyboard.press("Enter");
    await page.waitForTimeout(100);
    const near = await labels();
    assert.notDeepEqual(near, before);
    const charts = await page.locator("[data-track]").count();
    assert.equal(near.length % charts, 0, "all charts show the same stretch");
    await page.locator('[data-do="all"]').first().click();
    await page.waitForTimeout(100);
    assert.deepEqual(await labels(), before);
    await context.close();
  });
  await test("health: values under the pointer, in every chart", async () => {
    const { page, heard, context } = await open(one);
    await wakeAll(page);
    await page.locator("[data-track] .plot").first().hover();
    await page.waitForTimeout(100);
    const told = (await page.locator(".readout").allTextContents()).filter((t) => t !== "");
    assert.ok(told.length >= 3, `${told.length} charts tell a value`);
    assert.deepEqual(heard, []);
    await context.close();
  });
  await test("health: the verdict leads to each finding and its picture", async () => {
    for (const width of [390, 1280]) {
      const { page, context } = await open(many, { width });
      assert.equal(await page.locator("nav.index a").count(), 3);
      const links = await page.locator(".verdicts td a").all();
      assert.ok(links.length >= 3);
      for (const link of links) {
        await link.click();
        const id = (await link.getAttribute("href")).slice(1);
        const finding = page.locator(`[id="${id}"]`);
        await finding.locator("h3").waitFor({ state: "visible" });
        assert.ok(await finding.locator("svg.chart").count() > 0, `${id} has a picture`);
        const top = await finding.evaluate((e) => e.getBoundingClientRect().top);
        assert.ok(top < 900, `${id} came into view`);
      }
      await context.close();
    }
  });
  await test("health: on a phone the verdict is read without scrolling sideways", async () => {
    const { page, context } = await open(many, { width: 390 });
    const wide = await page.evaluate(() => [...document.querySelectorAll(".verdicts .scroll")]
      .map((e) => e.scrollWidth - e.clientWidth).filter((w) => w > 0));
    assert.deepEqual(wide, []);
    await context.close();
  });
  await test("health: without script every picture is a drawing", async () => {
    const { page, context } = await open(one, { script: false });
    const drawings = await page.locator("[data-track] svg.chart").all();
    assert.ok(drawings.length >= 5);
    for (const drawing of drawings) assert.ok(await drawing.isVisible());
    assert.ok(await page.locator(".finding svg.chart").first().isVisible());
    assert.equal(await page.locator(".tools").first().isVisible(), false);
    await context.close();
  });
  await test("health: a flood of alarms shows which stood when", async () => {
    const { page, context } = await open(many);
    assert.ok(await page.locator(".finding .stands").count() > 0);
    assert.ok(await page.locator(".run .stands").count() > 0);
    assert.ok(await page.locator("[id$='-alarms'] .flood").count() > 0);
    await context.close();
  });
  await test("health: markup in header, alarm, unit and file name is text", async () => {
    const log = workshop.withColumns(oil.log, "columns.csv", [
      [evil("header"), () => "1"],
      ["Alarm", (i) => (i % 200 < 100 ? evil("alarm") : "")],
      ["Unit", () => evil("unit")],
    ]);
    const named = workshop.path("<img src=x onerror=ran=3>.csv");
    copyFileSync(log, named);
    await showsAsText(workshop.page("bad.html", ["report", named]),
      [evil("header"), evil("alarm"), 'ran="unit"', "<img src=x onerror=ran=3>.csv"]);
  });
}
