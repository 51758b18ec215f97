// Asks a language server for TOML, as an editor does, about manifests: node editor.mjs FOLDER FILE… [LINE:COLUMN]…, files by
// their names in the folder, lines and columns from 0 and of the first file. Reports what it completes at each place, and of each
// file its schema and what is wrong.

import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const libraries = process.env.SHEAFWRIGHT_BROWSER;
if (!libraries) throw new Error("SHEAFWRIGHT_BROWSER names no folder with the libraries: run bash tests/run, which installs them");
const { TaploLsp } = createRequire(join(libraries, "package.json"))("@taplo/lsp");
// What is asked for elsewhere (a catalogue of other people's schemas) is not to be had.
globalThis.fetch = async () => { throw new Error("no net"); };

const [folder, ...rest] = process.argv.slice(2);
const isPlace = (word) => /^\d+:\d+$/.test(word);
const [files, places] = [rest.filter((word) => !isPlace(word)), rest.filter(isPlace)];
const settings = { schema: { enabled: true, catalogs: [] } };
const environment = {
  now: () => new Date(), envVar: () => undefined, envVars: () => [], stdErrAtty: () => false, stdin: async () => new Uint8Array(),
  stdout: async (bytes) => bytes.length, stderr: async (bytes) => bytes.length, glob: () => [], writeFile: async () => {},
  readFile: async (path) => new Uint8Array(await readFile(path)), isAbsolute: (path) => path.startsWith("/"), cwd: () => folder,
  urlToFilePath: (url) => (url.startsWith("file:") ? fileURLToPath(url) : url), findConfigFile: () => undefined, js: null,
};

const pause = (ms) => new Promise((done) => setTimeout(() => done(null), ms));

/** What is said of a file, and what is completed at places of it. A server for each: it tells of a schema once. */
async function asked(file, places) {
  const waiting = new Map();
  let [last, found, spoken, told] = [0, [], 0, () => {}];
  const associated = new Promise((done) => { told = done; });
  const server = await TaploLsp.initialize(environment, {
    onMessage(message) {
      if (message.method === "workspace/configuration") {
        server.send({ jsonrpc: "2.0", id: message.id, result: message.params.items.map(() => settings) });
      } else if (message.method === "textDocument/publishDiagnostics") {
        spoken += 1;
        found = message.params.diagnostics.map((d) => ({ line: d.range.start.line, message: d.message }));
      } else if (message.method === "taplo/didChangeSchemaAssociation") {
        told(message.params.schemaUri);
      } else if (waiting.has(message.id)) {
        waiting.get(message.id)(message.result);
      }
    },
  });
  const say = (method, params) => server.send({ jsonrpc: "2.0", method, params });
  const ask = (method, params) => new Promise((done) => {
    waiting.set(++last, done);
    server.send({ jsonrpc: "2.0", id: last, method, params });
  });
  const [root, uri] = [pathToFileURL(folder).href, pathToFileURL(join(folder, file)).href];
  await ask("initialize", { processId: null, rootUri: root, capabilities: {}, workspaceFolders: [{ uri: root, name: "product" }] });
  say("initialized", {});
  const text = readFileSync(join(folder, file), "utf8");
  say("textDocument/didOpen", { textDocument: { uri, languageId: "toml", version: 1, text } });
  const schema = await Promise.race([associated, pause(60_000)]);
  const completed = {};
  for (const place of places) {
    const [line, character] = place.split(":").map(Number);
    const answer = await ask("textDocument/completion", { textDocument: { uri }, position: { line, character } });
    completed[place] = (answer?.items ?? answer ?? []).map((item) => item.label);
  }
  // Asked again once the schema is known, it says what it finds, at first the form alone: the last word counts.
  const since = spoken;
  say("textDocument/didChange", { textDocument: { uri, version: 2 }, contentChanges: [{ text }] });
  for (let [heard, quiet] = [since, 0]; heard === since || quiet < 8; ) {
    await pause(100);
    quiet = spoken === heard ? quiet + 1 : 0;
    heard = spoken;
  }
  server.dispose();
  return { schema, found, completed };
}

const result = { completed: {}, files: {} };
for (const [n, file] of files.entries()) {
  const { completed, ...said } = await asked(file, n === 0 ? places : []);
  Object.assign(result.completed, completed);
  result.files[file] = said;
}
process.stdout.write(JSON.stringify(result));
process.exit(0);
