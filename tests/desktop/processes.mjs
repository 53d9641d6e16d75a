// The programs around the window: a virtual display, a driver on a session bus of its own.

import { spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { setTimeout as pause } from "node:timers/promises";

/** Groups of processes that must not outlive this one. */
const groups = new Set();
process.on("exit", () => {
  for (const group of groups) process.kill(-group, "SIGKILL");
});
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => process.exit(1));

/** A virtual display with a number that is free. */
export async function startDisplay() {
  const child = spawn("Xvfb", ["-displayfd", "3", "-screen", "0", "1400x1000x24", "-nolisten", "tcp"], {
    detached: true,
    stdio: ["ignore", "ignore", "ignore", "pipe"],
  });
  groups.add(child.pid);
  const [number] = await Promise.race([once(child.stdio[3], "data"), failed(child, "Xvfb")]);
  return { name: `:${String(number).trim()}`, stop: () => stop(child) };
}

/** A WebKitWebDriver for one window; what it and the window print is kept. */
export async function startDriver(display, environment) {
  const port = await freePort();
  const child = spawn("dbus-run-session", ["--", "WebKitWebDriver", `--port=${port}`], {
    // A group of its own, so that the bus and the window end with it.
    detached: true,
    stdio: ["ignore", "pipe", "pipe"],
    env: {
      ...process.env,
      DISPLAY: display,
      GDK_BACKEND: "x11",
      NO_AT_BRIDGE: "1",
      // Without a graphics card.
      LIBGL_ALWAYS_SOFTWARE: "1",
      WEBKIT_DISABLE_DMABUF_RENDERER: "1",
      TAURI_AUTOMATION: "true",
      TAURI_WEBVIEW_AUTOMATION: "true",
      ...environment,
    },
  });
  groups.add(child.pid);
  let printed = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.on("data", (text) => {
      printed += text;
    });
  }
  const url = `http://127.0.0.1:${port}`;
  const lost = failed(child, "WebKitWebDriver");
  await Promise.race([answers(`${url}/status`), lost]);
  lost.catch(() => {}); // It ends when it is stopped.
  return { url, printed: () => printed, stop: () => stop(child), kill: () => stop(child, "SIGKILL") };
}

async function answers(url) {
  for (let tries = 0; tries < 100; tries += 1) {
    try {
      await fetch(url);
      return;
    } catch {
      await pause(100);
    }
  }
  throw new Error(`nothing answers at ${url}`);
}

async function failed(child, name) {
  const [code] = await Promise.race([
    once(child, "exit"),
    once(child, "error").then(([error]) => {
      throw new Error(`${name} cannot be started: ${error.message}. cargo xtask test installs it`);
    }),
  ]);
  throw new Error(`${name} ended (${code})`);
}

async function stop(child, signal = "SIGTERM") {
  groups.delete(child.pid);
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, "exit");
  process.kill(-child.pid, signal);
  await ended;
}

async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address();
  server.close();
  await once(server, "close");
  return port;
}
