// For each pair of job and build folder named (job=folder): the finished head's
// metal and steel, from the head's mesh and a hook bent anew from the job's
// figures. It reads jobs with one head and one hook by the usual dimensions,
// nose towards -x, back +y, left +z, parting at 0, lengths in bare mm.
import {readFileSync} from 'node:fs';
import {basename, dirname, join} from 'node:path';
import {CrossSection, Manifold, agree, load, plan} from './solids.mjs';

const sides = 96; // of the wire's section

// figures reads the lines of a job that are simple enough: numbers, texts in
// quotes and lists of numbers, by "table.key".
function figures(path) {
	const found = {};
	let table = '';
	for (const line of readFileSync(path, 'utf8').split('\n')) {
		const head = line.match(/^\[(\w+)\]/);
		if (head) table = head[1];
		const pair = line.match(/^(\w+)\s*=\s*(-?[\d.]+|"[^"]*"|\[[-\d., ]+\])/);
		if (pair) found[`${table}.${pair[1]}`] = JSON.parse(pair[2]);
	}
	return found;
}

// wire returns a hook in the plane z = 0, the eye's centre at the origin, the
// shank towards +x: an eye ring, the leg down from it, a corner of 1.5 wires,
// the shank, half a circle of the gape, and the point's way back.
function wire({diameter, eyeInside, leg, shank, gape, point}) {
	const ring = (eyeInside + diameter) / 2, corner = 1.5 * diameter;
	const r = diameter / 2 * Math.sqrt(2 * Math.PI / sides / Math.sin(2 * Math.PI / sides)); // a polygon as large as the circle
	const section = CrossSection.circle(r, sides);
	const rod = (x, y, length, angle) => section.extrude(length).rotate(0, 90, 0).rotate(0, 0, angle).translate(x, y, 0);
	// An arc about (x, y) from one angle on; revolve turns about the section's y, which becomes z.
	const arc = (x, y, radius, from, sweep) => section.translate(radius, 0).revolve(4 * sides, sweep).rotate(0, 0, from).translate(x, y, 0);
	const bend = gape / 2;
	return Manifold.union([
		arc(0, 0, ring, 0, 360),
		rod(0, -ring, leg - ring - corner, -90),
		arc(corner, corner - leg, corner, 180, 90),
		rod(corner, -leg, shank - corner, 0),
		arc(shank, bend - leg, bend, -90, 180),
		rod(shank, gape - leg, point, 180),
		Manifold.sphere(r, sides).translate(shank - point, gape - leg, 0),
	]);
}

let ok = true;
for (const pair of process.argv.slice(2)) {
	const [job, folder] = pair.split('=');
	const f = figures(job);
	const head = load(join(dirname(job), f['head.file']));
	const hook = wire({
		diameter: f['hook.wire'], eyeInside: f['hook.eye_inside'], leg: f['hook.leg'],
		shank: f['hook.shank'], gape: f['hook.gape'], point: f['hook.point'],
	});
	const {heads, metal} = plan(folder);
	const ours = heads[0], name = basename(folder);
	const [x, y] = f['head.eye'];
	const cold = head.translate(-x, -y, 0).scale(ours.scale);
	const density = metal.density_g_cm3.best, steel = 7.85 * hook.volume() / 1000;
	const left = cold.subtract(hook).volume();
	ok = agree(`${name} head`, ours.volume_mm3, cold.volume(), 1e-6 * cold.volume(), 'mm³') && ok;
	ok = agree(`${name} wire in the head`, ours.volume_mm3 - ours.metal_mm3, cold.volume() - left, 1e-3 * hook.volume(), 'mm³') && ok;
	ok = agree(`${name} steel`, ours.steel_g, steel, 2e-4 * steel, 'g') && ok;
	ok = agree(`${name} finished head`, ours.finished_g.best, density * metal.fed_factor.best * left / 1000 + steel, 3e-4 * ours.finished_g.best, 'g') && ok;
	ok = agree(`${name} target`, ours.target_g, density * metal.fed_factor.best * left / 1000 + steel, 1e-3 * ours.target_g, 'g') && ok;
}
process.exit(ok ? 0 : 1);
