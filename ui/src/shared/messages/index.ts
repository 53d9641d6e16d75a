import { FluentBundle, FluentResource, type FluentVariable } from "@fluent/bundle";

/**
 * The one text catalogue. `engine.ftl` words what the engine decides, `app.ftl` the screens; both lie with the
 * contract so that every host speaks with the same words.
 */
const files = import.meta.glob<string>(["$texts/en/engine.ftl", "$texts/en/app.ftl"], {
  query: "?raw",
  import: "default",
  eager: true,
});

export const textLanguage = "en";

export type Args = Record<string, FluentVariable>;

/** Builds a bundle from Fluent texts; problems in the texts are for tests to find. */
export function bundleOf(language: string, texts: Iterable<string>): FluentBundle {
  // The texts and the figures in them share one direction, so isolating marks would only get in the way.
  const bundle = new FluentBundle(language, { useIsolating: false });
  for (const text of texts) bundle.addResource(new FluentResource(text));
  return bundle;
}

const bundle = bundleOf(textLanguage, Object.values(files));

/** Whether the catalogue has a text for a key. */
export function has(key: string): boolean {
  return bundle.getMessage(key)?.value != null;
}

/** The text of a key, filled with its figures. A missing text shows its key, which tests look for. */
export function t(key: string, args?: Args): string {
  const pattern = bundle.getMessage(key)?.value;
  return pattern == null ? key : bundle.formatPattern(pattern, args ?? null, []);
}

/** The lines of a text that is made of several. */
export function lines(key: string, args?: Args): string[] {
  return t(key, args).split("\n");
}

/** The word for a value of one of the contract's lists: `word("phase", "late_summer")`. */
export function word(list: string, value: string): string {
  return t(`${list}-${value.replaceAll("_", "-")}`);
}
