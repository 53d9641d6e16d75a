import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { bundleOf, has, t, word } from "./index";

const SRC = join(import.meta.dirname, "../..");
const TEXTS = join(SRC, "../../src-tauri/crates/contract/messages/en");

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? walk(join(folder, entry.name)) : [join(folder, entry.name)],
  );
}

const sources = walk(SRC)
  .filter((file) => /\.(svelte|ts)$/.test(file) && !file.endsWith(".test.ts") && !file.includes("/contract/"))
  .map((file) => ({ file: file.slice(SRC.length + 1), text: readFileSync(file, "utf8") }));
const app = readFileSync(join(TEXTS, "app.ftl"), "utf8");

/** Body of each message of the screens by its key. */
const messages = new Map(
  [...app.matchAll(/^([a-z][a-z0-9-]*) =((?:.*)(?:\n[ }].*|\n(?=\n[ ]))*)/gm)].map(([, key = "", body = ""]) => [key, body]),
);

/** Lists of the contract whose values are put into words, with the type that names the values. */
const LISTS: Record<string, string> = {
  "alternative-kind": "AlternativeKind",
  caution: "Caution",
  evidence: "Evidence",
  "forecast-source": "ForecastSource",
  habit: "Habit",
  light: "Light",
  "move-in-pass": "MoveInPass",
  "night-step": "NightStep",
  part: "Part",
  phase: "Phase",
  "price-fuel": "Fuel",
  "record-source": "RecordSource",
  "shelter-kind": "ShelterKind",
  "shelter-name": "ShelterKind",
  sky: "Sky",
  stage: "Stage",
  "water-class": "WaterClass",
  weather: "Weather",
  "wind-shelter": "WindShelter",
};

describe("the texts of the screens", () => {
  it("have no mistakes in their syntax", () => {
    expect(messages.size).toBeGreaterThan(300);
    for (const key of messages.keys()) expect(has(key), key).toBe(true);
  });

  it("exist for every key that a screen asks for", () => {
    const missing = sources.flatMap(({ file, text }) =>
      [...text.matchAll(/\b(?:t|lines)\(\s*"([^"]+)"/g)].map(([, key = ""]) => key).filter((key) => !has(key)).map((key) => `${file}: ${key}`),
    );
    expect(missing).toEqual([]);
  });

  it("are all in use", () => {
    const all = sources.map(({ text }) => text).join("\n");
    const lists = Object.keys(LISTS);
    const unused = [...messages.keys()].filter(
      (key) => !all.includes(`"${key}"`) && !lists.some((list) => key.startsWith(`${list}-`) && all.includes(`word("${list}"`)),
    );
    expect(unused).toEqual([]);
  });

  it("get every figure they name", () => {
    const without = [...messages].flatMap(([key, body]) => {
      const names = new Set([...body.matchAll(/\$([a-z]+)/g)].map(([, name = ""]) => name));
      if (names.size === 0) return [];
      return sources.flatMap(({ file, text }) =>
        [...text.matchAll(new RegExp(`\\bt\\(\\s*"${key}"(?!,\\s*figures\\b)([\\s\\S]{0,400})`, "g"))].flatMap(([, rest = ""]) =>
          [...names].filter((name) => !new RegExp(`\\b${name}\\s*[:,}]`).test(rest)).map((name) => `${file}: ${key} lacks ${name}`),
        ),
      );
    });
    expect(without).toEqual([]);
  });

  it("word every value of the contract's lists that they show", () => {
    const asked = new Set(sources.flatMap(({ text }) => [...text.matchAll(/\bword\("([^"]+)"/g)].map(([, list = ""]) => list)));
    const known = [...asked].filter((list) => list !== "container");
    for (const list of known) {
      const type = LISTS[list];
      expect(type, `no type is known for the list ${list}`).toBeDefined();
      const declared = readFileSync(join(SRC, "contract", `${type}.ts`), "utf8");
      const values = [...(declared.split("export type")[1] ?? "").matchAll(/"([a-z_]+)"/g)].map(([, value = ""]) => value);
      expect(values.length, list).toBeGreaterThan(1);
      for (const value of values) expect(has(`${list}-${value.replaceAll("_", "-")}`), `${list}: ${value}`).toBe(true);
    }
  });
});

describe("wording", () => {
  it("follows the plural rules", () => {
    expect(t("today-count", { late: 0, due: 1 })).toBe("One chore is due.");
    expect(t("today-count", { late: 1, due: 0 })).toBe("One chore is late.");
    expect(t("today-count", { late: 2, due: 3 })).toBe("2 chores are late and 3 are due.");
    expect(t("list-count", { count: 12, late: 0 })).toBe("12 chores.");
    expect(t("list-count", { count: 12, late: 2 })).toBe("12 chores, 2 of them late.");
    expect(t("plant-count", { plants: 1, plantings: 1 })).toBe("One plant in one planting.");
  });

  it("spells values as the catalogue does", () => {
    expect(word("phase", "late_summer")).toBe("Late summer");
    expect(word("shelter-kind", "wrapped_bed")).toBe("wrapped bed");
  });

  it("shows the key of a text that is missing, and puts no hidden marks around figures", () => {
    expect(t("no-such-text")).toBe("no-such-text");
    const bundle = bundleOf("en", ["sum = { $a } and { $b }"]);
    const pattern = bundle.getMessage("sum")?.value;
    expect(pattern && bundle.formatPattern(pattern, { a: "1", b: "2" })).toBe("1 and 2");
  });
});
