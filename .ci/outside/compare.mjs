// node compare.mjs FOLDER RUNS HEAD.stl...: runs FOLDER/tray and tray.mjs in
// turns on each head, and prints a table of medians and of what they agree on.
// Fails when the volumes do not agree.
import {execFileSync} from 'node:child_process';
import {cpus, loadavg} from 'node:os';
import {join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {enclosed, readSTL} from './stl.mjs';

const [folder, runs, ...heads] = process.argv.slice(2);
const limit = 1e-4; // of a volume

const output = (program, ...args) => execFileSync(program, args, {encoding: 'utf8', maxBuffer: 1 << 26});
const tray = {ours: join(folder, 'ours.stl'), theirs: join(folder, 'theirs.stl')};
const ours = (...args) => JSON.parse(output(join(folder, 'tray'), '--json', ...args));
const script = fileURLToPath(new URL('tray.mjs', import.meta.url));
const theirs = (segments, head) => JSON.parse(output(process.execPath, script, segments, head, tray.theirs));

const median = values => {
	const sorted = values.toSorted((a, b) => a - b);
	const middle = sorted.length >> 1;
	return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};
const of = (reports, figure) => median(reports.map(figure));
// all but one stage
const without = name => report => report.seconds - report.stages.find(stage => stage.name === name).seconds;

function row(name, a, b, digits) {
	console.log(`${name.padEnd(24)}${a.toFixed(digits).padStart(14)}${b.toFixed(digits).padStart(14)}${(a / b).toFixed(3).padStart(10)}`);
}

// agree prints two volumes and returns whether they are near enough.
function agree(name, a, b) {
	const off = Math.abs(a - b) / b;
	console.log(`${name.padEnd(24)}${a.toFixed(2).padStart(14)}${b.toFixed(2).padStart(14)}  ${off.toExponential(1)} apart, ${off <= limit ? 'within' : 'FAIL, over'} ${limit}`);
	return off <= limit;
}

function compare(head) {
	const both = [], mesh = [], rubber = [], other = [];
	for (let run = 0; run < runs; run++) {
		other.push(theirs(64, head));
		both.push(ours(head, tray.ours));
		mesh.push(ours('--mesh', head, tray.ours));
		rubber.push(ours('--rubber', head));
	}
	console.log(`\nhead of ${both[0].head_facets} facets, medians of ${runs} runs in turns`);
	console.log(`${''.padEnd(24)}${'ours'.padStart(14)}${'booleans'.padStart(14)}${'ratio'.padStart(10)}`);
	const seconds = report => report.seconds;
	row('tray and rubber, s', of(both, seconds), of(other, seconds), 3);
	row('tray only, s', of(mesh, seconds), of(other, without('make the rubber')), 3);
	row('rubber only, s', of(rubber, seconds), of(other, without('write the tray')), 3);
	const busy = report => report.processor_seconds;
	if (both[0].processor_seconds) row('of processors, s', of(both, busy), of(other, busy), 3);
	const peak = report => report.peak_bytes / 1e6;
	row('peak memory, MB', of(both, peak), of(other, peak), 0);
	row('triangles', both[0].triangles, other[0].triangles, 0);
	// Their cones and balls have sides; with this many they are nearly round.
	const round = theirs(1024, head);
	const {low, best, high} = both[0].rubber_mm3;
	const held = low <= round.rubber_mm3 && round.rubber_mm3 <= high;
	console.log(`our bracket of the rubber ${low.toFixed(2)} to ${high.toFixed(2)} mm³ ${held ? 'holds' : 'FAIL, does not hold'} theirs`);
	const near = agree('rubber, mm³', best, round.rubber_mm3);
	return agree('tray as written, mm³', enclosed(readSTL(tray.ours)), round.tray_mm3) && near && held;
}

const [{model}] = cpus();
console.log(`${cpus().length} x ${model}, ${process.platform}, node ${process.version}, load ${loadavg()[0].toFixed(1)} at the start`);
console.log('From reading the head to the tray written, without the start of either program; the booleans run on one thread.');
let ok = true;
for (const head of heads) ok = compare(head) && ok;
process.exit(ok ? 0 : 1);
