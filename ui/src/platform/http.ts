import type { Failure as FailureRecord } from "$contract";
import { Failure, type Host } from "./index";

/** The gateway, on the address this page came from. */
export const host: Host = {
  async call(name, request) {
    let response: Response;
    try {
      response = await fetch(`/api/call/${name}`, {
        method: "POST",
        headers: { "content-type": "application/json", "x-hibernacle": "1" },
        body: JSON.stringify(request),
      });
    } catch (cause) {
      throw new Failure({ code: "unreachable", message: String(cause) });
    }
    if (response.ok) return response.json();
    throw await failureOf(response);
  },

  async saveText(fileName, mime, text) {
    const address = URL.createObjectURL(new Blob([text], { type: mime }));
    const link = document.createElement("a");
    link.href = address;
    link.download = fileName;
    link.click();
    // The download has its own hold on the data once the click is handled.
    setTimeout(() => URL.revokeObjectURL(address), 10_000);
    return true;
  },
};

async function failureOf(response: Response): Promise<Failure> {
  try {
    return new Failure((await response.json()) as FailureRecord);
  } catch {
    return new Failure({ code: response.status >= 500 ? "internal" : "refused", message: response.statusText });
  }
}
