// Logs, journals and pages for the tests, made by the program itself.
import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

/** Markup that would tell on itself if it ran; `where` says where it stood. */
export const evil = (where) => `</script><script>ran="${where}"</script><img src=x onerror=ran=1>`;

export class Workshop {
  constructor(program) {
    this.program = program;
    this.folder = mkdtempSync(join(tmpdir(), "telltale-browser-"));
  }
  close() { rmSync(this.folder, { recursive: true, force: true }); }
  path(name) { return join(this.folder, name); }

  /** Runs a command that writes a page; gives the page's address. */
  page(name, args) {
    const file = this.path(name);
    const done = spawnSync(this.program, [...args, "--html", file, "--quiet"]);
    assert.ok(done.status === 0 || done.status === 1, String(done.stderr));
    return pathToFileURL(file).href;
  }
  /** A made-up log with a fault; its profile beside it. */
  log(name, fault, seed = "3") {
    const log = this.path(`${name}.csv`);
    const profile = this.path(`${name}.toml`);
    execFileSync(this.program, ["simulate", "--random", "--fault", fault, "--seed", seed,
      "--out", log, "--profile-out", profile]);
    return { log, profile };
  }
  write(name, text) {
    writeFileSync(this.path(name), text);
    return this.path(name);
  }
  /** A log with more columns: [header, value of row i]. */
  withColumns(log, name, columns) {
    const lines = readFileSync(log, "utf8").split("\n");
    const head = lines.findIndex((line) => line.split(",").length > 3);
    const quoted = (text) => `"${text.replaceAll('"', '""')}"`;
    return this.write(name, lines.map((line, i) => {
      if (i < head || line.trim() === "") return line;
      const more = columns.map(([header, value]) => quoted(i === head ? header : value(i - head)));
      return [line.trimEnd(), ...more].join(",");
    }).join("\n"));
  }
  /** A journal of an alarm that chatters, one that stands, and a burst. */
  journal(name, tag) {
    const rows = ["Time,Unit,Tag,State"];
    const at = (s) => new Date(Date.UTC(2026, 4, 4, 7) + s * 1000).toISOString();
    const add = (s, alarm, state) => rows.push([at(s), "Hulk", `"${alarm.replaceAll('"', '""')}"`, state].join(","));
    const events = [];
    for (let k = 0; k < 40; ++k) {
      events.push([k * 20, tag, "ON"], [k * 20 + 6, tag, "OFF"]);
    }
    events.push([1000, "REMOTE_PANEL_LOST", "ON"], [200000, "REMOTE_PANEL_LOST", "OFF"]);
    for (let day = 0; day < 3; ++day) {
      ["RAW_WATER_FLOW_LOW", "EXHAUST_TEMP_HIGH", "EXHAUST_TEMP_TRIP", "FREQ_LOW"].forEach((alarm, k) =>
        events.push([50000 + day * 60000 + k * 12, alarm, "ON"], [50600 + day * 60000 + k, alarm, "OFF"]));
    }
    events.sort((a, b) => a[0] - b[0]).forEach((e) => add(...e));
    return this.write(name, rows.join("\n") + "\n");
  }
}
