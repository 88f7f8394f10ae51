// The solids of manifold-3d, whose folder is named by the environment variable
// MANIFOLD, out of binary STL files.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {pathToFileURL} from 'node:url';
import {readSTL} from './stl.mjs';

const {default: Module} = await import(pathToFileURL(join(process.env.MANIFOLD, 'manifold.js')));
const wasm = await Module();
wasm.setup();

export const {Manifold, CrossSection} = wasm;

// load returns the solid of a file; a mesh that is no manifold is an error.
export function load(file) {
	const solid = Manifold.ofMesh(new wasm.Mesh({numProp: 3, ...readSTL(file)}));
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
