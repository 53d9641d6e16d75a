// The place of one shelter: its plan drawn and dragged, its build, its heat and its winters.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes } from "./support/browser.mjs";
import { plantGarden } from "./support/garden.mjs";
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

const detail = () => host.call("shelter_detail", { shelter_id: garden.shelter.id });
const outline = async () => (await detail()).floor_plan.zones.find((one) => one.zone_id === garden.zone.id);

async function open(view, options) {
  const opened = await openPage(browser, `${host.url}/#/shelter/${garden.shelter.id}/${view}`, options);
  await settled(opened.page);
  return opened;
}

/** Puts the zone on a known place, so that tests do not build on each other. */
async function draw(place) {
  const { zones } = await detail();
  await host.call("zone_save", { ...zones.find((one) => one.id === garden.zone.id), outline: place });
}
const SMALL = { x_m: 0.5, y_m: 0.5, length_m: 1, width_m: 1 };

test("a zone is dragged, pulled at a corner and put back", async () => {
  await draw(SMALL);
  const { page, close } = await open("plan");
  const zone = page.locator(`[data-zone="${garden.zone.id}"]`);
  const box = await zone.locator("rect").boundingBox();
  const perMetre = box.width;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + perMetre, box.y + box.height / 2 + 0.5 * perMetre, { steps: 5 });
  await page.mouse.up();
  await page.getByText("was drawn anew").waitFor();
  const moved = await outline();
  assert.ok(moved.is_drawn);
  assert.ok(Math.abs(moved.outline.x_m - 1.5) < 0.06 && Math.abs(moved.outline.y_m - 1) < 0.06, JSON.stringify(moved));
  assert.equal(moved.outline.length_m, 1);
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("is as it was before").waitFor();
  assert.deepEqual((await outline()).outline, SMALL);

  await zone.click();
  const corner = page.locator('[data-corner="far-right"] circle');
  const grip = await corner.boundingBox();
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  // Far beyond the walls: it stops at them.
  await page.mouse.move(grip.x + 20 * perMetre, grip.y + 20 * perMetre, { steps: 5 });
  await page.mouse.up();
  await page.getByText("was drawn anew").waitFor();
  const { outline: grown } = await outline();
  assert.deepEqual(grown, { x_m: 0.5, y_m: 0.5, length_m: 2.5, width_m: 2 });
  await close();
});

test("a zone is moved and resized by arrow keys, and by typing figures", async () => {
  await draw(SMALL);
  const { page, close } = await open("plan");
  const zone = page.locator(`[data-zone="${garden.zone.id}"]`);
  await zone.focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Shift+ArrowDown");
  await page.getByText("was drawn anew").waitFor();
  assert.deepEqual((await outline()).outline, { x_m: 0.7, y_m: 0.4, length_m: 1, width_m: 1.1 });
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.press("Escape");
  await page.waitForTimeout(900);
  assert.equal((await outline()).outline.x_m, 0.7, "Escape takes back what was not sent yet");

  await page.keyboard.press("Enter");
  await page.getByRole("textbox", { name: "From the near end" }).fill("0.2");
  await page.getByLabel("Standing water").fill("100");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.waitForFunction(() => document.querySelector("[data-zone]")?.getAttribute("aria-label")?.includes("0.2"));
  const after = await detail();
  assert.equal(after.zones.find((one) => one.id === garden.zone.id).water_l, 100);
  assert.equal((await outline()).outline.x_m, 0.2);
  await page.getByRole("textbox", { name: "From the near end" }).fill("9");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText("draw the zone inside the shelter").waitFor();
  await close();
});

test("a finger scrolls over the plan and drags only what it tapped first", async () => {
  await draw(SMALL);
  const context = await browser.newContext({ viewport: sizes.phone, hasTouch: true, isMobile: true, reducedMotion: "reduce" });
  const page = await context.newPage();
  await page.goto(`${host.url}/#/shelter/${garden.shelter.id}/plan`);
  await settled(page);
  const zone = page.locator(`[data-zone="${garden.zone.id}"]`);
  await zone.scrollIntoViewIfNeeded();
  const middle = async () => {
    const box = await zone.locator("rect").boundingBox();
    return { x: box.x + box.width / 2, y: box.y + box.height / 2, metre: box.width };
  };
  const session = await context.newCDPSession(page);
  const swipe = async (dx, dy) => {
    const { x, y } = await middle();
    const point = (share) => [{ x: x + dx * share, y: y + dy * share }];
    await session.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: point(0) });
    for (const share of [0.25, 0.5, 0.75, 1]) await session.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: point(share) });
    await session.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
  };
  await swipe(0, -60);
  await page.waitForTimeout(300);
  assert.deepEqual((await outline()).outline, SMALL, "the page was scrolled, the zone stayed");
  await page.evaluate(() => scrollTo(0, 0));
  const at = await middle();
  await page.touchscreen.tap(at.x, at.y);
  await page.waitForFunction(() => document.querySelector("[data-zone][aria-pressed='true']"));
  await swipe(at.metre, 0);
  await page.getByText("was drawn anew").waitFor();
  const { outline: moved } = await outline();
  assert.ok(Math.abs(moved.x_m - 1.5) < 0.06, JSON.stringify(moved));
  await context.close();
});

test("a heater on a cord is refused in words; without the cord it is not, and removing it can be undone", async () => {
  const { page, close } = await open("plan");
  await page.getByRole("button", { name: "Add a heater" }).click();
  const form = page.getByRole("dialog", { name: "A heater" });
  await form.getByLabel("Name", { exact: true }).fill("Fan");
  await form.getByLabel("Heat output").fill("");
  await form.getByRole("button", { name: "Save" }).click();
  await form.getByText("Fill this in.").waitFor();
  await form.getByLabel("Heat output").fill("2000");
  await form.getByLabel("I know what it hangs on").check();
  await form.getByLabel("On an extension cord").check();
  assert.deepEqual(await accessProblems(page), []);
  await form.getByRole("button", { name: "Save" }).click();
  await page.getByText("Refused: do not use it like this").waitFor();
  await page.getByText("a heater never hangs on an extension cord").first().waitFor();

  await page.getByRole("button", { name: "Change Fan" }).click();
  const change = page.getByRole("dialog", { name: "Change the heater" });
  await change.getByLabel("On an extension cord").uncheck();
  await change.getByLabel("Fixed, wired or piped in").check();
  await change.getByLabel("Guarded by a residual-current device").check();
  await change.getByRole("button", { name: "Save" }).click();
  await page.getByText("Fan was saved.").first().waitFor();
  await page.getByText("Refused: do not use it like this").waitFor({ state: "detached" });

  const { heaters } = await detail();
  assert.equal(heaters.length, 1);
  const mark = page.locator(`[data-mark-of="${heaters[0].id}"]`);
  await mark.focus();
  await page.keyboard.press("ArrowRight");
  await page.getByText("Fan was moved.").waitFor();
  assert.ok(Math.abs((await detail()).heaters[0].spot.x_m - heaters[0].spot.x_m - 0.1) < 1e-9);

  await page.getByRole("button", { name: "Remove Fan" }).click();
  await page.getByText("Fan was removed.").waitFor();
  assert.equal((await detail()).heaters.length, 0);
  await page.getByRole("group", { name: "Fan was removed." }).getByRole("button", { name: "Undo" }).click();
  await page.getByText("Fan is back.").waitFor();
  assert.equal((await detail()).heaters.length, 1);
  await close();
});

test("a sensor is hung at the coldest spot, which then is watched", async () => {
  const unwatched = (found) => found.floor_plan.findings.some((one) => one.kind === "coldest_unwatched");
  assert.ok(unwatched(await detail()), "nothing hangs there before");
  const { page, close } = await open("plan");
  await page.getByRole("button", { name: "Add a sensor" }).click();
  const form = page.getByRole("dialog", { name: "A sensor" });
  await form.getByLabel("Name", { exact: true }).fill("Floor logger");
  await form.getByRole("button", { name: "Save" }).click();
  await page.getByText("Floor logger was saved.").waitFor();
  const found = await detail();
  assert.equal(found.sensors.length, 1);
  assert.ok(!unwatched(found), JSON.stringify(found.floor_plan.findings));
  await close();
});

test("the build starts as usual, says what is wrong at its field, is kept, and goes back", async () => {
  const { page, close } = await open("build");
  await page.getByText("Taken as usual").waitFor();
  await page.getByLabel("Height of the eaves").fill("9");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText("measure the eaves").waitFor();
  await page.getByLabel("Height of the eaves").fill("1.5");
  await page.getByLabel("The length points to").fill("200");
  await page.getByRole("button", { name: "Add a door, window or vent" }).click();
  await page.getByRole("button", { name: "Add a cover" }).click();
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText("Glasshouse was saved.").waitFor();
  const { build, is_usual_build } = await detail();
  assert.equal(is_usual_build, false);
  assert.deepEqual(build.form, { kind: "gable", eave_m: 1.5 });
  assert.equal(build.length_azimuth_deg, 200);
  assert.equal(build.openings.length, 1);
  assert.equal(build.covers.length, 1);
  assert.deepEqual(await accessProblems(page), []);
  assert.deepEqual(await layoutProblems(page), []);
  await page.getByRole("button", { name: "Back to the usual build" }).click();
  await page.getByText("Taken as usual").waitFor();
  assert.equal((await detail()).is_usual_build, true);
  await page.getByRole("group", { name: /usual build again/ }).getByRole("button", { name: "Undo" }).click();
  await page.getByRole("button", { name: "Back to the usual build" }).waitFor();
  assert.deepEqual((await detail()).build, build);
  await close();
});

test("a room has something beyond each side", async () => {
  const { page, close } = await open("build");
  await page.getByLabel("Form", { exact: true }).selectOption({ label: "Room in or under a building" });
  await page.getByLabel(/Beyond the left side/).selectOption({ label: "a heated room" });
  await page.getByLabel("Temperature there").fill("");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText("Fill this in.").waitFor();
  await page.getByLabel("Temperature there").fill("20");
  await page.getByRole("button", { name: "Remove opening 1" }).click();
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await page.getByText("Glasshouse was saved.").waitFor();
  const { build } = await detail();
  assert.deepEqual(build.form.beyond.left, { kind: "heated", temp_c: 20 });
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("is as it was before").waitFor();
  assert.equal((await detail()).build.form.kind, "gable");
  await close();
});

test("the heat loss follows the night that is asked for, and says what it cannot use", async () => {
  const { page, close } = await open("loss");
  const bare = page.getByRole("region", { name: "Without a cover" });
  await page.getByLabel("Low outdoors").fill("-10");
  await page.getByLabel("Kept inside").fill("5");
  await page.getByText("Reckoned for −10 °C outdoors, as you asked.").waitFor();
  const watts = async () => Number(/([\d,]+)\sW/.exec(await bare.innerText())?.[1].replace(",", ""));
  const mild = await watts();
  await page.getByLabel("Low outdoors").fill("-25");
  await page.getByText("Reckoned for −25 °C outdoors, as you asked.").waitFor();
  // The loss goes with the difference of temperatures: 30 K against 15 K.
  const ratio = (await watts()) / mild;
  assert.ok(ratio > 1.9 && ratio < 2.1, String(ratio));
  await page.getByText("Read as a table").click();
  const table = page.getByRole("region", { name: "Heat loss by part" }).getByRole("table");
  assert.ok((await table.getByRole("row").count()) > 4);
  await page.getByLabel("Low outdoors").fill("-99");
  await page.getByText("enter the coldest night to reckon with").waitFor();
  await close();
});

test("winters are compared, a run is stopped, and the figures stand side by side", async () => {
  const { page, close } = await open("compare");
  await page.getByRole("radio", { name: "My own" }).check({ force: true });
  await page.getByLabel("Name", { exact: true }).first().fill("");
  await page.getByRole("button", { name: "Run the winters" }).click();
  await page.getByText("Fill this in.").waitFor();
  await page.getByLabel("Name", { exact: true }).first().fill("As bare as it gets");
  await page.getByText("How many winters").click();
  await page.getByLabel("Draws per winter").fill("200");
  await page.getByRole("button", { name: "Run the winters" }).click();
  await page.getByRole("progressbar").waitFor();
  await page.getByRole("button", { name: "Stop" }).click();
  await page.getByText("Nothing was kept of this run.").waitFor();

  await page.getByLabel("Draws per winter").fill("2");
  await page.getByRole("textbox", { name: /^Winters/ }).fill("3");
  await page.getByRole("button", { name: "Run the winters" }).click();
  const table = page.getByRole("table", { name: "Set-ups side by side" });
  await table.waitFor({ timeout: 120_000 });
  await table.getByRole("columnheader", { name: "As bare as it gets" }).waitFor();
  await table.getByRole("rowheader", { name: "Nights heated" }).waitFor();
  assert.deepEqual(await accessProblems(page), []);
  assert.deepEqual(await layoutProblems(page), []);
  await page.getByRole("textbox", { name: /^Winters/ }).fill("0");
  await page.getByRole("button", { name: "Run again" }).click();
  await page.getByText("ask for one winter to sixty").waitFor();
  await close();
});

test("an address leads straight to a view; a shelter that is gone is said to be", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/shelter/nothing/loss`);
  await settled(page);
  await page.getByText("This shelter is not here").waitFor();
  await page.getByRole("link", { name: "See the shelters of this site" }).click();
  await page.getByRole("heading", { level: 1, name: "Glasshouse" }).waitFor();
  await page.getByRole("navigation", { name: "Views of the shelter" }).getByRole("link", { name: "Build" }).click();
  await page.getByLabel("Form", { exact: true }).waitFor();
  assert.match(page.url(), new RegExp(`/shelter/${garden.shelter.id}/build$`));
  await close();
});
