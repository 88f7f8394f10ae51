// Reads binary STL files into the solids of manifold-3d, whose folder is named
// by the environment variable MANIFOLD.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {pathToFileURL} from 'node:url';

const {default: Module} = await import(pathToFileURL(join(process.env.MANIFOLD, 'manifold.js')));
const wasm = await Module();
wasm.setup();

export const {Manifold, CrossSection} = wasm;

// Binary STL: 80 bytes of header, a count, then 50 bytes a facet, of which the
// corners are at byte 12.
const header = 84, facet = 50, corners = 12;

// mesh welds the corners that agree in every bit.
function mesh(file) {
	const data = readFileSync(file);
	const count = data.readUInt32LE(80);
	if (data.length !== header + facet * count) {
		throw new Error(`${file}: ${count} facets take ${header + facet * count} bytes, the file has ${data.length}`);
	}
	const numbers = new Map();
	const triVerts = new Uint32Array(3 * count);
	for (let i = 0; i < 3 * count; i++) {
		const at = header + facet * Math.floor(i / 3) + corners + 12 * (i % 3);
		const key = data.latin1Slice(at, at + 12);
		if (!numbers.has(key)) numbers.set(key, numbers.size);
		triVerts[i] = numbers.get(key);
	}
	const vertProperties = new Float32Array(3 * numbers.size);
	let i = 0;
	for (const key of numbers.keys()) {
		const point = Buffer.from(key, 'latin1');
		for (let axis = 0; axis < 3; axis++) vertProperties[i++] = point.readFloatLE(4 * axis);
	}
	return new wasm.Mesh({numProp: 3, vertProperties, triVerts});
}

// load returns the solid of a file; a mesh that is no manifold is an error.
export function load(file) {
	const solid = Manifold.ofMesh(mesh(file));
	if (solid.status() !== 'NoError') throw new Error(`${file}: ${solid.status()}`);
	return solid;
}

// Pieces with a lesser diagonal than this are crumbs, too small to print or to
// show in a casting; mm.
const crumb = 0.1;

// sorted splits a solid into its pieces, outer and inner skins alike, and
// counts the crumbs apart.
export function sorted(solid) {
	const all = solid.decompose();
	const pieces = all.filter(piece => {
		const {min, max} = piece.boundingBox();
		return Math.hypot(...max.map((m, i) => m - min[i])) > crumb;
	});
	return {pieces, crumbs: all.length - pieces.length};
}

export const plan = folder => JSON.parse(readFileSync(join(folder, 'plan.json'), 'utf8'));

// agree compares a figure of halfpour's with the outside one and prints both.
// It returns whether they are within the limit of each other, all in one unit.
export function agree(what, ours, outside, limit, unit) {
	const apart = ours - outside;
	const ok = Math.abs(apart) <= limit;
	console.log(`${ok ? 'ok  ' : 'FAIL'} ${what}: ours ${ours.toFixed(4)}, outside ${outside.toFixed(4)} ${unit}, ` +
		`apart ${apart.toExponential(2)} ${unit} (${(apart / outside).toExponential(2)}), limit ${limit.toPrecision(3)}`);
	return ok;
}
