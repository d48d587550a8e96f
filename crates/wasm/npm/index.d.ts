import type { Calls } from "./types.js";

export type * from "./types.js";

/** Where in a file something is wrong. */
export interface Place {
  file?: string;
  line?: number;
  column?: number;
}

/** What guardcell refused. */
export class GuardcellError extends Error {
  /** A stable code, such as `out-of-range`. */
  readonly code: string;
  /** JSON Pointer into the request; empty for the whole. */
  readonly pointer: string;
  readonly detail: string;
  readonly hint: string;
  readonly place?: Place;
}

/** A call that the engine answers. */
export interface CallInfo {
  name: string;
  path: string;
  summary: string;
  /** A request as JSON. */
  example: string;
  can_draw: boolean;
}

export type Functions = {
  readonly [Name in keyof Calls]: (request: Calls[Name]["request"]) => Calls[Name]["response"];
};

export interface Guardcell extends Functions {
  /** Answers a call by its name, readers of files included. Throws `GuardcellError`. */
  call<Name extends keyof Calls>(name: Name, request: Calls[Name]["request"]): Calls[Name]["response"];
  call(name: string, request: unknown): unknown;
  /** As `call`, of JSON with JSON. */
  text(name: string, json: string): string;
  /** The answer as a picture (SVG), where `can_draw`. Throws `GuardcellError`. */
  draw(name: string, request: unknown): string;
  readonly calls: readonly CallInfo[];
}

/**
 * Loads the engine once and gives a function for every call. In Node and with bundlers that follow
 * `new URL("…", import.meta.url)` without an argument; else with the module or its address.
 */
export function load(module?: BufferSource | WebAssembly.Module | URL | string | Response | Promise<Response>): Promise<Guardcell>;
