import { invoke } from "@tauri-apps/api/core";
import { Failure, type Host } from "./index";

/** The desktop or phone shell around this page. */
export const host: Host = {
  async call(name, request) {
    try {
      return await invoke("call", { name, request });
    } catch (thrown) {
      throw Failure.from(thrown);
    }
  },

  async saveText(fileName, _mime, text) {
    try {
      return await invoke<boolean>("save_text", { fileName, text });
    } catch (thrown) {
      throw Failure.from(thrown);
    }
  },
};
