// Reads script.ps1, the completion for PowerShell, by a grammar of the language,
// and holds the commands and options in it against help.json.
//   node powershell.mjs FOLDER    with both, and the packages tree-sitter-powershell and web-tree-sitter
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const folder = process.argv[2];
const { Language, Parser } = await import(pathToFileURL(join(folder, "web-tree-sitter/web-tree-sitter.js")).href);
await Parser.init();
const parser = new Parser();
parser.setLanguage(await Language.load(join(folder, "tree-sitter-powershell/tree-sitter-powershell.wasm")));
const script = readFileSync(join(folder, "script.ps1"), "utf8");

// Windows PowerShell takes what a program prints for text of the console's
// code page, so that only these are sure to arrive.
assert.match(script, /^[\x20-\x7e\n]*$/, "not all of the script is ASCII");

const root = parser.parse(script).rootNode;
assert.ok(!root.hasError, "the script does not parse");
// The grammar would see: the same with something left out does not parse.
for (const part of ["{", "}", "(", ")", "'"]) {
  const last = script.lastIndexOf(part), broken = script.slice(0, last) + script.slice(last + 1);
  assert.ok(parser.parse(broken).rootNode.hasError, `a script without its last ${part} parses`);
}

// value is a literal as what it stands for: text, truth, a list or a table.
const value = (node) => {
  switch (node.type) {
    case "string_literal": {
      assert.match(node.text, /^'.*'$/s, `${node.text} is not taken as it stands`);
      return node.text.slice(1, -1).replaceAll("''", "'");
    }
    case "variable": return { $true: true, $false: false }[node.text];
    case "hash_literal_expression": return Object.fromEntries(node.descendantsOfType("hash_entry")
      .filter((e) => nearest(e.parent, "hash_literal_expression").id === node.id).map((e) => [plain(e.namedChild(0)), value(inner(e.namedChild(1)))]));
    case "array_expression": return all(node).map(value);
  }
  throw new Error(`${node.type} is no literal: ${node.text.slice(0, 60)}`);
};
const literals = ["string_literal", "variable", "hash_literal_expression", "array_expression"];
const nearest = (node, type) => { while (node.type !== type) node = node.parent; return node; };
// all are the outermost literals in a node, without itself.
const all = (node) => node.namedChildren.flatMap((c) => literals.includes(c.type) ? [c] : all(c));
const inner = (node) => literals.includes(node.type) ? node : all(node)[0];
const plain = (key) => { const [text] = all(key); return text ? value(text) : key.text; };

const commands = value(root.descendantsOfType("hash_literal_expression")[0]);
const help = JSON.parse(readFileSync(join(folder, "help.json"), "utf8")).commands;
assert.deepEqual(Object.keys(commands).filter(Boolean), help.map((c) => c.name));
for (const c of help) {
  const got = commands[c.name];
  assert.equal(got.Usage, c.usage);
  assert.deepEqual(got.Options.map((o) => [o.Name, o.Usage, o.Value, o.Words]),
    c.options.flatMap((o) => o.names.map((n) => [n, o.usage, Boolean(o.value), o.words ?? []])), `options of ${c.name}`);
}

// What the language's own reference asks of a completer for a program: three
// parameters in this order, and results of a text, a text to list, a kind out of
// these and a tip.
const register = root.descendantsOfType("command")[0];
assert.match(register.text, /^Register-ArgumentCompleter -Native -CommandName halfpour -ScriptBlock \{/);
assert.deepEqual(register.descendantsOfType("script_parameter").slice(0, 3).map((p) => p.text), ["$wordToComplete", "$commandAst", "$cursorPosition"]);
const kinds = ["Command", "ParameterName", "ParameterValue", "ProviderItem"];
for (const [, kind] of script.matchAll(/& \$offer \S+ '(\w+)'/g)) assert.ok(kinds.includes(kind), kind);
assert.equal([...script.matchAll(/CompletionResult\]::new\(([^()]*)\)/g)].filter(([, args]) => args.split(",").length === 4).length, 2);
console.log(`the script for PowerShell parses, with ${help.length} commands as in help`);
