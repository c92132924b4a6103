// A client of yaml-language-server over its standard streams: completions, explanations and complaints by the records' schema.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { pathToFileURL } from "node:url";

const [server, folder] = process.argv.slice(2);
const child = spawn(process.execPath, [server, "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
const waiting = new Map();
const complaints = new Map();
let received = Buffer.alloc(0);
let count = 0;

function send(message) {
  const body = Buffer.from(JSON.stringify({ jsonrpc: "2.0", ...message }));
  child.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
  child.stdin.write(body);
}

function ask(method, params) {
  const id = ++count;
  send({ id, method, params });
  return new Promise((resolve, reject) => waiting.set(id, { resolve, reject }));
}

function take(message) {
  if (message.method === "textDocument/publishDiagnostics") {
    complaints.get(message.params.uri)?.(message.params.diagnostics);
  } else if (message.method && message.id !== undefined) {
    send({ id: message.id, result: message.method === "workspace/configuration" ? message.params.items.map(() => null) : null });
  } else if (waiting.has(message.id)) {
    const { resolve, reject } = waiting.get(message.id);
    message.error ? reject(new Error(message.error.message)) : resolve(message.result);
  }
}

child.stdout.on("data", (data) => {
  received = Buffer.concat([received, data]);
  for (;;) {
    const end = received.indexOf("\r\n\r\n");
    if (end < 0) return;
    const length = Number(/Content-Length: (\d+)/i.exec(received.subarray(0, end).toString())[1]);
    if (received.length < end + 4 + length) return;
    const body = received.subarray(end + 4, end + 4 + length).toString();
    received = received.subarray(end + 4 + length);
    take(JSON.parse(body));
  }
});

async function open(name, text, schema = "schema.json") {
  const modeline = `# yaml-language-server: $schema=${schema}\n`;
  const uri = `${pathToFileURL(folder)}/${name}`;
  const found = new Promise((resolve) => complaints.set(uri, resolve));
  send({ method: "textDocument/didOpen", params: { textDocument: { uri, languageId: "yaml", version: 1, text: modeline + text } } });
  return { uri, found: await found };
}

async function labels(name, text, line, character, schema) {
  const { uri } = await open(name, text, schema);
  const answer = await ask("textDocument/completion", { textDocument: { uri }, position: { line, character } });
  return (answer.items ?? answer).map((item) => item.label);
}

setTimeout(() => { throw new Error("the server did not answer within two minutes"); }, 120_000).unref();
await ask("initialize", { processId: process.pid, rootUri: String(pathToFileURL(folder)), capabilities: {} });
send({ method: "initialized", params: {} });
send({ method: "workspace/didChangeConfiguration", params: { settings: { yaml: { validate: true, hover: true, completion: true, schemaStore: { enable: false } } } } });

const sound = "electrical:\n  buses:\n    - {id: MAIN, rating: 80 A}\n";
assert.deepEqual((await open("sound.yaml", sound)).found, []);
const bad = (await open("bad.yaml", "electrical:\n  buses:\n    - {id: MAIN, ratng: 80 A}\n")).found;
assert.equal(bad.length, 1);
assert.equal(bad[0].range.start.line, 3);
assert.match(bad[0].message, /ratng/);
assert.equal((await open("kind.yaml", "electrical:\n  sources:\n    - {id: B, kind: batery}\n")).found[0].range.start.line, 3);

const unit = (await open("unit.yaml", "electrical:\n  buses:\n    - {id: MAIN, rating: 80 amperez}\n")).found;
assert.equal(unit.length, 1);
assert.match(unit[0].message, /wanted a current, for example 6.5 A; units: A, mA, uA, kA/);
const bare = (await open("bare.yaml", "electrical:\n  wires:\n    - {id: W1, from: A, to: B, length: 80}\n")).found;
assert.match(bare[0].message, /wanted a length, for example 3-1\/8 in; units: m, mm/);

const sections = await labels("empty.yaml", "\n", 1, 0);
for (const name of ["aircraft", "electrical", "weights", "documents"]) assert.ok(sections.includes(name), `${name} in ${sections}`);
const fields = await labels("field.yaml", "electrical:\n  buses:\n    - id: MAIN\n      \n", 4, 6);
assert.ok(fields.includes("rating"), `rating in ${fields}`);
assert.ok(!fields.includes("chemistry"), "a bus has no chemistry");
const kinds = await labels("value.yaml", "electrical:\n  sources:\n    - id: B\n      kind: \n", 4, 12);
assert.ok(kinds.includes("battery"), `battery in ${kinds}`);

const { uri } = await open("hover.yaml", sound);
const hover = await ask("textDocument/hover", { textDocument: { uri }, position: { line: 3, character: 18 } });
assert.match(JSON.stringify(hover.contents), /Continuous current of the bus bar/);

const gates = await labels("gates-sections.yaml", "\n", 1, 0, "gates.json");
assert.deepEqual(gates.filter((label) => ["gates", "margins", "baseline"].includes(label)).length, 3, String(gates));
const stops = await labels("gates-stops.yaml", "gates:\n  - stops:\n      - \n", 3, 8, "gates.json");
assert.ok(stops.includes("no-data"), `no-data in ${stops}`);
const slip = (await open("gates-slip.yaml", "margins:\n  - {rule: weights, keep: 10}\n", "gates.json")).found;
assert.match(slip[0].message, /wanted a ratio, for example 62 %/);
console.log("yaml-language-server completes, explains and complains by the schema");
child.kill();
process.exit(0);
