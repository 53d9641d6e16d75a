// A climate file: looked at, taken over, refused with the line.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { join } from "node:path";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes } from "./support/browser.mjs";
import { plantGarden } from "./support/garden.mjs";
import { root, startHost } from "./support/host.mjs";

const RECORD = join(root, "tests/reference/data/climate/champion-1982-2018.csv");
let browser;
let host;
let garden;

before(async () => {
  browser = await launch();
  host = await startHost();
  garden = await plantGarden(host);
});
after(async () => {
  await browser?.close();
  await host?.stop();
});

async function openFileForm(page) {
  await settled(page);
  await page.getByRole("button", { name: "Use another climate" }).click();
  await page.getByLabel("A station’s record").check({ force: true });
}

test("a real record is understood, shown before it is kept, and then dates the plan", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/climate`, { size: sizes.phone });
  await openFileForm(page);
  await page.locator("input[type=file]").setInputFiles(RECORD);
  await page.getByRole("region", { name: "What was understood" }).waitFor({ timeout: 30_000 });
  const before = await host.call("overview", { site_id: garden.site.id });
  assert.equal(before.climate.basis.kind, "typed", "looking keeps nothing");
  assert.deepEqual(await layoutProblems(page), []);
  assert.deepEqual(await accessProblems(page), []);

  await page.getByRole("button", { name: "Use this record" }).click();
  await page.getByText("The plan now rests on this climate.").waitFor({ timeout: 30_000 });
  const report = await host.call("climate_freeze", { site_id: garden.site.id, thresholds_c: [] });
  assert.equal(report.basis.kind, "measured");
  const first = report.events.find((one) => one.event === "first_autumn" && one.threshold_c === 0);
  const median = first.p50.date;
  const shown = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: "UTC" }).format(new Date(median));
  const table = page.getByRole("region", { name: "First night in autumn at or below" });
  await table.getByText(shown, { exact: true }).first().waitFor();
  await table.getByText(`${first.seasons_with} of ${first.seasons}`).first().waitFor();
  await settled(page);
  assert.deepEqual(await layoutProblems(page), []);
  assert.deepEqual(await accessProblems(page), []);
  await close();
});

test("a doubtful or foreign file is told with its line, and nothing is kept", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/climate`);
  const before = await host.call("overview", { site_id: garden.site.id });
  await openFileForm(page);
  const file = page.locator("input[type=file]");
  await file.setInputFiles({
    name: "short.csv",
    mimeType: "text/csv",
    buffer: Buffer.from("date,tmin,tmax\n2001-01-01,-3,4\n2001-02-30,-2,5\n"),
  });
  const understood = page.getByRole("region", { name: "What was understood" });
  await understood.getByText("One remark on the file").click();
  assert.match(await understood.getByRole("listitem").innerText(), /Line 3:.*2001-02-30.*not a date/);
  await understood.getByText("No season is complete enough").waitFor();
  assert.equal(await page.getByRole("button", { name: "Use this record" }).count(), 0, "too little to plan on");
  assert.deepEqual(await accessProblems(page), []);

  await file.setInputFiles({ name: "notes.txt", mimeType: "text/plain", buffer: Buffer.from("water the lemon\n") });
  const note = page.getByRole("alert");
  await note.waitFor();
  assert.match(await note.innerText(), /notes\.txt.*line 1.*water the lemon/s);
  assert.equal(await understood.count(), 0);
  assert.deepEqual(await accessProblems(page), []);
  assert.deepEqual((await host.call("overview", { site_id: garden.site.id })).climate, before.climate);
  await close();
});

test("when the program has gone away the screen says so and recovers", async () => {
  const gone = await startHost();
  await plantGarden(gone);
  const { page } = await openPage(browser, `${gone.url}/#/today`);
  await settled(page);
  await page.route("**/api/call/**", (route) => route.abort());
  await page.getByRole("link", { name: "Season", exact: true }).click();
  const note = page.getByRole("alert");
  await note.getByText("The program does not answer").waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await page.unroute("**/api/call/**");
  await note.getByRole("button", { name: "Try again" }).click();
  await page.locator("[data-mark]").first().waitFor();
  await page.context().close();
  await gone.stop();
});

test("the chores leave as a calendar file with the chosen hour and reminder", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/season`);
  await settled(page);
  await page.getByRole("button", { name: "Calendar file" }).click();
  const dialog = page.getByRole("dialog", { name: "Chores for your calendar" });
  await dialog.getByLabel("Time of day").selectOption("8");
  await dialog.getByLabel("Reminder").selectOption("1440");
  assert.deepEqual(await accessProblems(page), []);
  const [download] = await Promise.all([page.waitForEvent("download"), dialog.getByRole("button", { name: "Save the file" }).click()]);
  assert.match(download.suggestedFilename(), /\.ics$/);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  const text = Buffer.concat(chunks).toString("utf8");
  assert.ok(text.startsWith("BEGIN:VCALENDAR"));
  assert.match(text, /DTSTART;TZID=[^:]*Europe\/Vienna:\d{8}T080000/);
  assert.match(text, /TRIGGER[^:]*:-P(1D|T1440M|T24H)/);
  await close();
});
