import { fileURLToPath } from "node:url";
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vitest/config";
import { buildBudget } from "./build-budget";

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Where a development server finds a host that answers commands. */
const gateway = process.env.HIBERNACLE_URL ?? "http://127.0.0.1:8970";

export default defineConfig({
  plugins: [svelte(), buildBudget()],
  resolve: {
    alias: {
      $app: here("./src/app"),
      $features: here("./src/features"),
      $shared: here("./src/shared"),
      $platform: here("./src/platform"),
      $contract: here("./src/contract"),
      $texts: here("../src-tauri/crates/contract/messages"),
    },
  },
  build: {
    target: ["chrome109", "safari16", "firefox115"],
    // A strict content policy allows no inline data as a script or style.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: {
    strictPort: true,
    port: 5173,
    proxy: { "/api": { target: gateway, changeOrigin: true, headers: { origin: gateway } } },
    fs: { allow: [here("."), here("../src-tauri/crates/contract/messages")] },
  },
  clearScreen: false,
  test: {
    include: ["src/**/*.test.ts"],
    environment: "node",
  },
});
