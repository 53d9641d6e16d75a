import { gzipSync } from "node:zlib";
import type { Plugin } from "vite";

/** Fails a build whose first load of script weighs more than this when compressed. */
const LIMIT_KB = 150;

/** Sums up the entry with everything it imports at once, and refuses what is over the limit. */
export function buildBudget(): Plugin {
  return {
    name: "build-budget",
    apply: "build",
    generateBundle(_options, bundle) {
      const first = new Set<string>();
      const take = (name: string) => {
        const chunk = bundle[name];
        if (first.has(name) || chunk?.type !== "chunk") return;
        first.add(name);
        chunk.imports.forEach(take);
      };
      for (const [name, chunk] of Object.entries(bundle)) {
        if (chunk.type === "chunk" && chunk.isEntry) take(name);
      }
      const bytes = [...first].reduce((sum, name) => {
        const chunk = bundle[name];
        return sum + (chunk?.type === "chunk" ? gzipSync(chunk.code).length : 0);
      }, 0);
      const size = `first load: ${(bytes / 1000).toFixed(1)} kB of compressed script, limit ${LIMIT_KB} kB`;
      if (bytes > LIMIT_KB * 1000) this.error(size);
      this.info(size);
    },
  };
}
