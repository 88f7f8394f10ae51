// Reads script.ps1, the completion for PowerShell, by a grammar of the language.
//   node powershell.mjs FOLDER    with it, and the packages tree-sitter-powershell and web-tree-sitter
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

// What the language's own reference asks of a completer for a program: three
// parameters in this order, and results of a text, a text to list, a kind out of
// these and a tip.
const register = root.descendantsOfType("command")[0];
assert.match(register.text, /^Register-ArgumentCompleter -Native -CommandName halfpour -ScriptBlock \{/);
assert.deepEqual(register.descendantsOfType("script_parameter").slice(0, 3).map((p) => p.text), ["$wordToComplete", "$commandAst", "$cursorPosition"]);
const kinds = ["Command", "ParameterName", "ParameterValue", "ProviderItem"];
const results = [...script.matchAll(/CompletionResult\]::new\(([^()]*)\)/g)].map(([, args]) => args.split(", "));
assert.equal(results.length, 2);
for (const r of results) assert.ok(r.length === 4 && kinds.includes(r[2].slice(1, -1)), r.join());
assert.match(script, /& halfpour 'complete-words' '--' \$before "=\$wordToComplete"/);
console.log("the script for PowerShell parses");
