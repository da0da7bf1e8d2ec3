// An editor's side of a language server that is asked over standard input and output.

import { spawn } from "node:child_process";

const PATIENCE = 30_000;

/** Starts a server. `settings` are what the editor is asked for, by section. */
export class Server {
  #process;
  #settings;
  #number = 0;
  #answers = new Map();
  #diagnostics = new Map();
  #waiting = new Map();
  #read = Buffer.alloc(0);

  constructor(program, args, settings) {
    this.#settings = settings;
    this.#process = spawn(program, args, { stdio: ["pipe", "pipe", "inherit"] });
    this.#process.stdout.on("data", (data) => this.#take(data));
  }

  #send(message) {
    const body = Buffer.from(JSON.stringify({ jsonrpc: "2.0", ...message }));
    this.#process.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.#process.stdin.write(body);
  }

  #take(data) {
    this.#read = Buffer.concat([this.#read, data]);
    for (;;) {
      const end = this.#read.indexOf("\r\n\r\n");
      if (end < 0) return;
      const length = Number(/Content-Length: (\d+)/i.exec(this.#read.subarray(0, end))[1]);
      const start = end + 4;
      if (this.#read.length < start + length) return;
      const message = JSON.parse(this.#read.subarray(start, start + length));
      this.#read = this.#read.subarray(start + length);
      this.#hear(message);
    }
  }

  #hear({ id, method, params, result, error }) {
    if (method && id !== undefined) {
      const asked = method === "workspace/configuration" ? params.items : undefined;
      this.#send({ id, result: asked?.map(({ section }) => this.#settings[section] ?? null) ?? null });
    } else if (method === "textDocument/publishDiagnostics") {
      this.#diagnostics.set(params.uri, params.diagnostics);
      this.#waiting.get(params.uri)?.();
    } else if (id !== undefined) {
      this.#answers.get(id)?.(error ? { error } : { result });
      this.#answers.delete(id);
    }
  }

  notify(method, params) {
    this.#send({ method, params });
  }

  /** What the server answers. */
  async ask(method, params) {
    this.#number += 1;
    const id = this.#number;
    const answer = new Promise((resolve) => this.#answers.set(id, resolve));
    this.#send({ id, method, params });
    const { result, error } = await patiently(answer, method);
    if (error) throw new Error(`${method}: ${JSON.stringify(error)}`);
    return result;
  }

  async start() {
    await this.ask("initialize", {
      processId: process.pid,
      rootUri: null,
      capabilities: {
        workspace: { configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
        textDocument: {
          completion: { completionItem: { snippetSupport: true, documentationFormat: ["markdown"] } },
          hover: { contentFormat: ["markdown"] },
          publishDiagnostics: { relatedInformation: true },
        },
      },
    });
    this.notify("initialized", {});
    this.notify("workspace/didChangeConfiguration", { settings: this.#settings });
  }

  /** Opens a document; the diagnostics that the server publishes of it. */
  async open(uri, text) {
    const published = new Promise((resolve) => this.#waiting.set(uri, resolve));
    this.notify("textDocument/didOpen", {
      textDocument: { uri, languageId: "yaml", version: 1, text },
    });
    await patiently(published, `diagnostics of ${uri}`);
    return this.#diagnostics.get(uri);
  }

  async stop() {
    await this.ask("shutdown", null);
    this.notify("exit");
  }
}

async function patiently(promise, what) {
  let timer;
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(`no answer: ${what}`)), PATIENCE);
  });
  try {
    return await Promise.race([promise, late]);
  } finally {
    clearTimeout(timer);
  }
}
