// The real window: it opens on the demo season, its places work, a ticked chore lasts, bad data is explained.

import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, afterEach, before, beforeEach, test } from "node:test";
import { startDisplay, startDriver } from "./processes.mjs";
import { Window } from "./window.mjs";

const binary = process.env.HIBERNACLE_DESKTOP;
const pictures = join(import.meta.dirname, "out");

let display;
let home;
let data;
let driver;
let window;

before(async () => {
  assert.ok(binary, "HIBERNACLE_DESKTOP must name the built program: run `cargo xtask test --only desktop`");
  await mkdir(pictures, { recursive: true });
  display = await startDisplay();
});

after(() => display?.stop());

beforeEach(async () => {
  home = await mkdtemp(join(tmpdir(), "hibernacle-"));
  data = join(home, "data");
  driver = await drive();
});

function drive() {
  return startDriver(display.name, {
    HOME: home,
    XDG_DATA_HOME: join(home, "share"),
    XDG_CONFIG_HOME: join(home, "config"),
    XDG_CACHE_HOME: join(home, "cache"),
    HIBERNACLE_DATA_DIR: data,
    HIBERNACLE_NOW: "2026-11-25T10:00:00Z",
  });
}

afterEach(async () => {
  await window?.close();
  window = undefined;
  await driver?.stop();
  // Every start here names its data folder: nothing may reach for the grower's own.
  assert.ok(!existsSync(join(home, "share", "hibernacle")), "the default data folder appeared");
  assert.doesNotMatch(driver?.printed() ?? "", /panicked/, "the program panicked");
  await rm(home, { recursive: true, force: true });
});

async function open(...args) {
  try {
    window = await Window.open(driver, binary, args);
  } catch (cause) {
    throw new Error(`the window does not open. It printed:\n${driver.printed()}`, { cause });
  }
  await window.until("the frame", "return document.querySelector('nav a')");
}

test("every place opens on the demo season", async () => {
  await open("--demo");
  assert.equal(await window.title(), "Hibernacle");
  await window.untilText("Larch Bank");
  const places = await window.run("return [...document.querySelectorAll('nav a')].map((a) => a.innerText.trim())");
  assert.ok(places.length >= 3, `places: ${places}`);
  for (const [index, place] of places.entries()) {
    await window.click(place, "return document.querySelectorAll('nav a')[arguments[0]]", index);
    await window.until(
      `${place} is shown`,
      `return document.querySelector("nav a[aria-current]")?.innerText.trim() === arguments[0]
        && document.querySelector("main h1") && !document.querySelector("main .loading")`,
      place,
    );
    await window.picture(join(pictures, `${index + 1}-${place.toLowerCase()}.png`));
  }
  assert.deepEqual(await window.problems(), []);
});

test("a ticked chore outlives a killed program and can be taken back", async () => {
  await open("--demo");
  const key = await window.until("a chore that is due", "return document.querySelector('[data-chore]')?.dataset.chore");
  const find = "return document.querySelector(`[data-chore=\"${CSS.escape(arguments[0])}\"] button`)";
  const isDone = "return document.querySelector(`[data-chore=\"${CSS.escape(arguments[0])}\"]`)?.classList.contains('done')";
  await window.click("the tick", find, key);
  await window.until("the chore is done", isDone, key);
  await window.picture(join(pictures, "ticked.png"));

  await driver.kill();
  driver = await drive();
  await open();
  await window.until("the chore is still done", isDone, key);
  await window.click("the tick", find, key);
  await window.until("the chore is open again", `return !(() => { ${isDone} })()`, key);
  assert.deepEqual(await window.problems(), []);
});

test("data of a newer program is shown as such and left untouched", async () => {
  await open("--demo");
  await window.untilText("Larch Bank");
  await driver.kill();

  const name = (await readdir(data)).find((file) => file.endsWith(".sqlite"));
  await Promise.all(["-wal", "-shm"].map((end) => rm(join(data, name + end), { force: true })));
  const file = await readFile(join(data, name));
  // The user version of an SQLite file stands at byte 60 of its header (sqlite.org/fileformat2.html, 1.3).
  file.writeInt32BE(9_999, 60);
  await writeFile(join(data, name), file);

  driver = await drive();
  window = await Window.open(driver, binary, []);
  await window.untilText("newer");
  await window.picture(join(pictures, "too-new.png"));
  assert.deepEqual(await readFile(join(data, name)), file);
});
