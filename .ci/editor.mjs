// A YAML language server that is not ours, as an editor runs it: the schema a first line names checks and completes a sequence.
import { spawn, execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [server, lampwright] = process.argv.slice(2);
const folder = resolve("target/editor/files");
mkdirSync(folder, { recursive: true });
writeFileSync(`${folder}/sequence.schema.json`, execFileSync(lampwright, ["schema", "sequence"]));

const first = "# yaml-language-server: $schema=sequence.schema.json\n";
const good = `${first}lampwright: sequence 1\nchannels:\n  top: {drives: beacon, flash: {rate: 46 per min, lit: 60 ms}}\n`;
const bad = good.replace("drives: beacon", "drives: becon").replace("46 per min", "46");
const open = `${first}lampwright: sequence 1\n\nchannels:\n  top: {drives: beacon, steady: 100 %}\n`;

const child = spawn(process.execPath, [server, "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
let number = 0;
const waiting = new Map();
const told = new Map();
let text = Buffer.alloc(0);
child.stdout.on("data", (chunk) => {
  text = Buffer.concat([text, chunk]);
  for (;;) {
    const end = text.indexOf("\r\n\r\n");
    if (end < 0) return;
    const length = Number(/Content-Length: (\d+)/i.exec(text.subarray(0, end).toString())[1]);
    if (text.length < end + 4 + length) return;
    const message = JSON.parse(text.subarray(end + 4, end + 4 + length).toString());
    text = text.subarray(end + 4 + length);
    if (message.method === "textDocument/publishDiagnostics") told.set(message.params.uri, message.params.diagnostics);
    else if (message.method && message.id !== undefined) send({ id: message.id, result: message.method === "workspace/configuration" ? [null, null, null, null, null, null] : null });
    else if (waiting.has(message.id)) waiting.get(message.id)(message.result);
  }
});
const send = (message) => {
  const body = JSON.stringify({ jsonrpc: "2.0", ...message });
  child.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
};
const ask = (method, params) => new Promise((done) => {
  const id = ++number;
  waiting.set(id, done);
  send({ id, method, params });
});
const fail = (why) => { console.error(why); child.kill(); process.exit(1); };
setTimeout(() => fail("the language server did not answer in time"), 60_000).unref();

const file = (name, content) => {
  writeFileSync(`${folder}/${name}`, content);
  const uri = pathToFileURL(`${folder}/${name}`).href;
  send({ method: "textDocument/didOpen", params: { textDocument: { uri, languageId: "yaml", version: 1, text: content } } });
  return uri;
};
const diagnostics = async (uri) => {
  for (let turn = 0; turn < 200; turn += 1) {
    await new Promise((done) => setTimeout(done, 100));
    if (told.has(uri)) return told.get(uri);
  }
  return fail(`nothing was told of ${uri}`);
};

await ask("initialize", { processId: process.pid, rootUri: pathToFileURL(folder).href, capabilities: {}, initializationOptions: {} });
send({ method: "initialized", params: {} });
const clean = await diagnostics(file("good.yaml", good));
if (clean.length) fail(`a sound file is blamed: ${JSON.stringify(clean)}`);
const wrong = await diagnostics(file("bad.yaml", bad));
const lines = new Set(wrong.map((d) => d.range.start.line));
if (wrong.length < 2 || lines.size !== 1 || !lines.has(3)) fail(`two mistakes on line 4 wanted: ${JSON.stringify(wrong)}`);
const uri = file("open.yaml", open);
await diagnostics(uri);
const list = await ask("textDocument/completion", { textDocument: { uri }, position: { line: 2, character: 0 } });
const labels = list.items.map((item) => item.label);
for (const key of ["judge_by", "tick", "loop_time", "pwm", "title"]) {
  if (!labels.includes(key)) fail(`${key} is not completed: ${labels}`);
}
console.log(`the language server checks and completes: ${labels.join(", ")}`);
child.kill();
process.exit(0);
