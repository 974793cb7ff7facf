// Every page of ours in a real browser (Debian's chromium, headless): the
// health report, the alarm report, the season report.
//
// node report_test.mjs PROGRAM [FOLDER FOR SCREENSHOTS]
// Leaves with 77 (skipped) where chromium or an npm package is missing.
import { start, stop } from "./browser.mjs";
import { Workshop } from "./made.mjs";
import { alarmPage } from "./alarm_page.mjs";
import { healthPage } from "./health_page.mjs";
import { seasonPage } from "./season_page.mjs";

const [program, shots] = process.argv.slice(2);
const workshop = new Workshop(program);
let failed = 1;
try {
  await start(shots);
  await healthPage(workshop);
  await alarmPage(workshop);
  await seasonPage(workshop);
  failed = await stop();
} finally {
  workshop.close();
}
process.exit(failed === 0 ? 0 : 1);
