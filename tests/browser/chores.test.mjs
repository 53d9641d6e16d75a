// Ticking, taking back, leaving out and moving chores, and the checklist up to its stamp.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes } from "./support/browser.mjs";
import { plantGarden, seasonOf } from "./support/garden.mjs";
import { startHost } from "./support/host.mjs";

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

const row = (page, key) => page.locator(`li[data-chore="${key}"]`);
const stateOf = async (key) => (await seasonOf(host, garden.site)).plan.chores.find((chore) => chore.key === key);

/** An open chore of the season with what the test asks for; the earliest, so that the list shows it near the top. */
async function someChore(fits = () => true) {
  const { plan } = await seasonOf(host, garden.site);
  const chore = plan.chores.find((one) => one.state.state === "open" && fits(one));
  assert.ok(chore, "the plan has such a chore");
  return chore;
}

test("a chore is ticked with one press and taken back from the message", async () => {
  const chore = await someChore();
  const { page, close } = await openPage(browser, `${host.url}/#/season/list`, { size: sizes.phone });
  await settled(page);
  await row(page, chore.key).getByRole("button", { name: "Mark as done" }).click();
  await page.getByText(`Done: ${chore.title}`).waitFor();
  await row(page, chore.key).getByText("Done", { exact: true }).waitFor();
  assert.equal((await stateOf(chore.key)).state.state, "done");
  assert.deepEqual(await layoutProblems(page), []);

  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await page.getByText(`Taken back: ${chore.title}`).waitFor();
  assert.equal((await stateOf(chore.key)).state.state, "open");
  await close();
});

test("a chore is left out only with a reason, which its history keeps", async () => {
  const chore = await someChore();
  const { page, close } = await openPage(browser, `${host.url}/#/season/list`);
  await settled(page);
  await row(page, chore.key).getByRole("link").click();
  const sheet = page.getByRole("dialog", { name: chore.title });
  await sheet.getByRole("heading", { name: "Why" }).waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await sheet.getByRole("button", { name: "Leave out…" }).click();
  const dialog = page.getByRole("dialog", { name: "Leave this out?" });
  await dialog.getByRole("button", { name: "Leave out" }).click();
  await dialog.getByText("Say why in a few words").waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await dialog.getByLabel("Why").fill("The bench is empty this year");
  await dialog.getByRole("button", { name: "Leave out" }).click();
  await page.getByText(`Left out: ${chore.title}`).waitFor();
  assert.equal(await page.getByRole("dialog").count(), 0, "both dialogs are closed");
  assert.deepEqual((await stateOf(chore.key)).state.reason, "The bench is empty this year");

  await row(page, chore.key).getByRole("link").click();
  await sheet.getByText("Left out: The bench is empty this year").waitFor();
  await sheet.getByRole("button", { name: "Undo" }).click();
  await page.getByText(`Taken back: ${chore.title}`).waitFor();
  assert.equal((await stateOf(chore.key)).state.state, "open");
  await close();
});

test("a chore moves to another day, and a move past its killing date is warned of first", async () => {
  const chore = await someChore((one) => one.killing);
  const past = new Date(Date.parse(chore.window.latest) + 5 * 86_400_000).toISOString().slice(0, 10);
  const { page, close } = await openPage(browser, `${host.url}/#/season/list?chore=${encodeURIComponent(chore.key)}`);
  await settled(page);
  const sheet = page.getByRole("dialog", { name: chore.title });
  await sheet.getByText("Killing date").waitFor();
  await sheet.getByRole("button", { name: "Another day…" }).click();
  const dialog = page.getByRole("dialog", { name: "Another day" });
  await dialog.getByLabel("Day", { exact: true }).fill(chore.window.latest);
  assert.equal(await dialog.getByText("This is past the killing date").count(), 0);
  await dialog.getByLabel("Day", { exact: true }).fill(past);
  await dialog.getByText("This is past the killing date").waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await dialog.getByRole("button", { name: "Move all the same" }).click();
  await page.getByText("Moved to", { exact: false }).first().waitFor();
  const moved = await stateOf(chore.key);
  assert.equal(moved.due_on, past);
  assert.equal(moved.moved, true);
  await close();
});

test("what is due stands under its place, and each chore opens to its why", async () => {
  const today = await host.call("today", { site_id: garden.site.id, on: null });
  const { page, close } = await openPage(browser, `${host.url}/#/today`);
  await settled(page);
  const heading = await page.getByRole("heading", { level: 1 }).innerText();
  assert.match(heading, new RegExp(`\\b${Number(today.date.slice(8))}\\b`), "today is named");
  await page.getByText("have covers closed before dusk").locator("visible=true").waitFor();
  const group = today.groups.find((one) => one.late.length + one.due.length > 0);
  if (group) {
    const chore = [...group.late, ...group.due][0];
    await row(page, chore.key).getByRole("link").click();
    const sheet = page.getByRole("dialog", { name: chore.title });
    await sheet.getByText(chore.why).waitFor();
    await sheet.getByText("Source:").waitFor();
    // Every reason has found its sentence: none shows a bare key or an unfilled figure.
    const reasons = await sheet.locator(".reasons li").allInnerTexts();
    assert.ok(reasons.length > 0 && reasons.length <= chore.reasons.length);
    assert.equal(new Set(reasons).size, reasons.length, "no reason is told twice");
    for (const reason of reasons) assert.ok(!/\{\$|reason-/.test(reason) && /[.!]$/.test(reason.trim()), reason);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => !document.querySelector("dialog[open]"));
    // Closing leaves the address of the place, a moment after the sheet is gone.
    await page.waitForFunction(() => !location.href.includes("chore="));
  } else {
    await page.getByRole("heading", { name: "All is quiet" }).waitFor();
  }
  await close();
});

test("a checklist is done from top to bottom and stamps its zone as closed up", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/season/close-up?zone=${garden.zone.id}`, { size: sizes.phone });
  await settled(page);
  const open = page.getByRole("checkbox", { checked: false });
  const steps = await open.count();
  assert.ok(steps >= 5, `${steps} steps`);
  assert.equal(await page.getByText("How to prove it:").count(), steps, "each step says how to prove it");
  assert.equal(await page.locator(".stamp").count(), 0);
  for (let left = steps; left > 0; left -= 1) {
    await open.first().click();
    await page.waitForFunction((count) => document.querySelectorAll("[role=checkbox][aria-checked=false]").length === count, left - 1);
  }
  await page.locator(".stamp").getByText("Closed up").waitFor();
  const { zones } = await host.call("close_up", { site_id: garden.site.id, start_year: null });
  assert.equal(zones[0].open_required, 0);
  assert.ok(zones[0].closed_up_on);
  await settled(page);
  assert.deepEqual(await accessProblems(page), []);
  assert.deepEqual(await layoutProblems(page), []);

  await page.getByRole("checkbox", { checked: true }).first().click();
  await page.waitForFunction(() => !document.querySelector(".stamp") || document.querySelectorAll("[role=checkbox][aria-checked=false]").length === 1);
  await close();
});

test("the checklist prints one zone to a page, with boxes and cautions and without the frame", async () => {
  const demo = await startHost();
  await demo.call("demo_load", {});
  const { page, close } = await openPage(browser, `${demo.url}/#/season/close-up`);
  await settled(page);
  const zones = await page.locator("section.zone").count();
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("nav").first().isVisible(), false);
  assert.equal(await page.getByText("printed on").first().isVisible(), true);
  assert.equal(await page.locator("[role=checkbox]").first().isVisible(), true);
  const pdf = (await page.pdf({ format: "A4", printBackground: false })).toString("latin1");
  const pages = (pdf.match(/\/Type\s*\/Page\b/g) ?? []).length;
  assert.ok(zones > 3 && pages >= zones, `${zones} zones on ${pages} pages`);
  await close();
  await demo.stop();
});
