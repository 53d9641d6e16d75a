import type { Commands } from "$contract";
import type { ErrorCode } from "$contract";
import type { Failure as FailureRecord } from "$contract";

/** What a screen may ask of the host it runs in. */
export interface Host {
  call<K extends keyof Commands>(name: K, request: Commands[K]["request"]): Promise<Commands[K]["reply"]>;
  /** Hands a text to the grower as a file; false when they changed their mind. */
  saveText(fileName: string, mime: string, text: string): Promise<boolean>;
}

/** A failed command: the code decides what happens, the message is for the reader. */
export class Failure extends Error {
  readonly code: ErrorCode | "unreachable";
  readonly field: string | null;
  readonly file: string | null;
  readonly line: number | null;

  constructor(record: Partial<Omit<FailureRecord, "code">> & { code: ErrorCode | "unreachable"; message: string }) {
    super(record.message);
    this.code = record.code;
    this.field = record.field ?? null;
    this.file = record.file ?? null;
    this.line = record.line ?? null;
  }

  /** Whatever was thrown, as a failure. */
  static from(thrown: unknown): Failure {
    if (thrown instanceof Failure) return thrown;
    if (typeof thrown === "object" && thrown !== null && "code" in thrown && "message" in thrown) {
      return new Failure(thrown as FailureRecord);
    }
    return new Failure({ code: "internal", message: thrown instanceof Error ? thrown.message : String(thrown) });
  }
}

const inShell = "__TAURI_INTERNALS__" in globalThis;

let host: Promise<Host> | undefined;

function theHost(): Promise<Host> {
  host ??= inShell ? import("./tauri").then((m) => m.host) : import("./http").then((m) => m.host);
  return host;
}

/** Runs a command on the host. */
export async function call<K extends keyof Commands>(
  name: K,
  request: Commands[K]["request"],
): Promise<Commands[K]["reply"]> {
  return (await theHost()).call(name, request);
}

/** Hands a text to the grower as a file. */
export async function saveText(fileName: string, mime: string, text: string): Promise<boolean> {
  return (await theHost()).saveText(fileName, mime, text);
}
