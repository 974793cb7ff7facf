// The alarm report in a browser.
import assert from "node:assert/strict";
import { evil } from "./made.mjs";
import { holdsForEveryPage, open, showsAsText, test } from "./browser.mjs";

export async function alarmPage(workshop) {
  const address = workshop.page("alarms.html", ["alarms", workshop.journal("journal.csv", "BILGE_HIGH")]);
  await holdsForEveryPage("alarms", address);

  await test("alarms: lanes, rate with its flood, and a cure are drawn", async () => {
    const { page, context } = await open(address);
    assert.ok(await page.locator("path.raise.chatters").count() > 0);
    assert.ok(await page.locator("path.standing").count() > 0);
    assert.ok(await page.locator("rect.rate.over").count() > 0);
    assert.ok(await page.locator("rect.flood").count() >= 2);
    assert.equal(await page.locator("circle.proposed").count(), 1);
    await context.close();
  });
  await test("alarms: markup in a tag is text", async () => {
    await showsAsText(workshop.page("bad_alarms.html", ["alarms", workshop.journal("bad.csv", evil("tag"))]), ["ran=", "onerror"]);
  });
}
