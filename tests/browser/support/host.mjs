// Starts the real gateway on a data folder of its own.
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

export const root = resolve(import.meta.dirname, "../../..");

function program() {
  const named = process.env.HIBERNACLE_GATEWAY;
  const usual = join(root, "target/debug/hibernacle-gateway");
  const path = named ?? usual;
  if (!existsSync(path)) throw new Error(`${path} is missing: run \`cargo build -p hibernacle-gateway\` first`);
  return path;
}

/**
 * A running gateway, on a day of its own so that the tests pass in every month: its address, a way to call commands
 * beside the screens, and ways to end it, with its data or until another day.
 */
export async function startHost(now = "2026-11-25T10:00:00Z", data = mkdtempSync(join(tmpdir(), "hibernacle-browser-"))) {
  const child = spawn(program(), ["--port", "0", "--ui", join(root, "ui/dist")], {
    env: { ...process.env, HIBERNACLE_DATA_DIR: data, HIBERNACLE_NOW: now },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let said = "";
  child.stderr.on("data", (chunk) => (said += chunk));
  const url = await new Promise((found, failed) => {
    child.stdout.on("data", (chunk) => {
      said += chunk;
      const match = /http:\/\/[^\s/]+/.exec(said);
      if (match) found(match[0]);
    });
    child.on("exit", (code) => failed(new Error(`the gateway ended with ${code}: ${said}`)));
    setTimeout(() => failed(new Error(`the gateway gave no address: ${said}`)), 20_000).unref();
  });
  return {
    url,
    async call(name, request) {
      const response = await fetch(`${url}/api/call/${name}`, {
        method: "POST",
        headers: { "content-type": "application/json", "x-hibernacle": "1" },
        body: JSON.stringify(request),
      });
      const reply = await response.json();
      if (!response.ok) throw new Error(`${name}: ${reply.message}`);
      return reply;
    },
    /** Ends it and starts it again on the same data at another time. */
    async restart(at) {
      await this.stop({ keep: true });
      return startHost(at, data);
    },
    async stop({ keep = false } = {}) {
      const ended = new Promise((done) => child.on("exit", done));
      child.removeAllListeners("exit");
      child.once("exit", () => {});
      child.kill("SIGTERM");
      await Promise.race([ended, new Promise((done) => setTimeout(done, 3000).unref())]);
      if (!keep) rmSync(data, { recursive: true, force: true });
    },
  };
}
