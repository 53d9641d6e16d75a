// The window, driven over the W3C WebDriver protocol.

import { writeFile } from "node:fs/promises";
import { setTimeout as pause } from "node:timers/promises";

const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

const DRAW = `
  window.__drawing = true;
  const draw = (odd) => {
    document.documentElement.style.opacity = odd && window.__drawing ? "0.999" : "";
    if (window.__drawing) setTimeout(draw, 30, !odd);
  };
  draw(true);
`;

export class Window {
  #session;

  constructor(session) {
    this.#session = session;
  }

  /** Opens the program's window. */
  static async open(driver, binary, args) {
    const capabilities = { alwaysMatch: { "webkitgtk:browserOptions": { binary, args } } };
    const { sessionId } = await request(`${driver.url}/session`, { capabilities });
    return new Window(`${driver.url}/session/${sessionId}`);
  }

  /** Runs a function's body in the page. */
  run(script, ...args) {
    return request(`${this.#session}/execute/sync`, { script, args });
  }

  /** Waits until a function's body gives something true, and returns that. */
  async until(what, script, ...args) {
    const end = Date.now() + 20_000;
    while (Date.now() < end) {
      const value = await this.run(script, ...args);
      if (value) return value;
      await pause(100);
    }
    const problems = (await this.problems()).join("\n");
    throw new Error(`${what}: not within 20 s. The page says:\n${await this.text()}\nIts console:\n${problems}`);
  }

  /** Waits for a text on the page. */
  untilText(text) {
    return this.until(`“${text}” on the page`, "return document.body.innerText.includes(arguments[0])", text);
  }

  text() {
    return this.run("return document.body.innerText");
  }

  title() {
    return request(`${this.#session}/title`);
  }

  /** Clicks the first element that a function's body returns, as a person does. */
  async click(what, script, ...args) {
    const find = `const found = (() => { ${script} })(); found?.scrollIntoView({ block: "center" }); return found ?? null;`;
    const element = await this.until(what, find, ...args);
    await request(`${this.#session}/element/${element[ELEMENT]}/click`, {});
  }

  async resize(width, height) {
    await request(`${this.#session}/window/rect`, { width, height });
  }

  /** Saves a picture of the page once its pictures and movements have come to rest. */
  async picture(path) {
    await pause(400);
    // WebKitGTK takes a picture with the next frame, and a page at rest has none: keep it drawing meanwhile.
    await this.run(DRAW);
    const data = await request(`${this.#session}/screenshot`);
    await this.run("window.__drawing = false");
    await writeFile(path, Buffer.from(data, "base64"));
  }

  /** Errors that the page wrote to its console so far. */
  problems() {
    return this.run("return window.__consoleErrors ?? [\"the build keeps no console errors\"]");
  }

  close() {
    return request(this.#session, undefined, "DELETE");
  }
}

async function request(url, body, method = body === undefined ? "GET" : "POST") {
  const text = body === undefined ? undefined : JSON.stringify(body);
  const what = `${method} ${new URL(url).pathname} ${text ?? ""}`;
  let response;
  try {
    response = await fetch(url, { method, body: text, signal: AbortSignal.timeout(60_000) });
  } catch (cause) {
    throw new Error(`no answer to ${what}`, { cause });
  }
  const { value } = await response.json();
  if (!response.ok) throw new Error(`${value.error}: ${value.message}\nat ${what}`);
  return value;
}
