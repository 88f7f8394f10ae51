// bed.mjs HOOK.stl BUILD: the bed of a drawn hook in both frames, against booleans of
// the hook's own mesh. The job is the ball jig's: nose -x, back +y, left +z, parting
// at 0, turned by -90°, the hook in the head's coordinates.
import {basename, join} from 'node:path';
import {CrossSection, Manifold, agree, load} from './solids.mjs';

const fit = 0.05; // the job's default clearance
const eye = {inside: 2, x: -1.224, y: 8.951}; // of the demo hook, as examples/heads has them
const bend = 12; // mm behind the eye there is nothing of head, sprue and keys

const [hookFile, folder] = process.argv.slice(2);
const name = basename(hookFile, '.stl');

// The eye's middle in a frame: the middle of the round post that stands for its opening.
function eyeOf(frame, mirrored) {
	const most = Math.PI * (eye.inside / 2) ** 2, found = [];
	for (const ring of frame.slice(0.2).toPolygons()) {
		let area = 0, x = 0, y = 0;
		ring.forEach(([px, py], i) => {
			const [qx, qy] = ring[(i + 1) % ring.length], w = px * qy - qx * py;
			area += w / 2, x += (px + qx) * w, y += (py + qy) * w;
		});
		if (-area > 0.7 * most && -area < most) found.push([x / (6 * area), y / (6 * area)]);
	}
	if (found.length !== 1) throw new Error(`${name}: found ${found.length} openings of an eye`);
	return found[0];
}

const hook = load(hookFile).translate(-eye.x, -eye.y, 0);
const {min, max} = hook.boundingBox();
const behind = hook.trimByPlane([1, 0, 0], bend - 1);
const bed = behind.minkowskiSum(Manifold.sphere(fit, 8)); // a little less than a ball
let ok = true;
for (const half of ['left', 'right']) {
	const frame = load(join(folder, `${half}.stl`));
	const [x, y] = eyeOf(frame);
	// The right half is printed turned by 180° about y.
	const turned = solid => (half === 'left' ? solid.rotate(0, 0, -90) : solid.rotate(0, 0, -90).rotate(0, 180, 0))
		.translate(x, y, 0).trimByPlane([0, 0, 1], 0.02);
	const room = turned(Manifold.cube([max[0] - bend + 1, max[1] - min[1] + 2, 8], false).translate(bend, min[1] - 1, -4));
	const printed = frame.intersect(room);

	// The hook goes in whole, the bed is as wide as its clearance makes it, and nothing of
	// it is wider further up, so that the rubber lets go of the hook.
	const stands = turned(hook).subtract(frame).volume();
	ok = agree(`${name} ${half}: hook outside its bed`, stands, 0, 2e-3, 'mm³') && ok;
	// Where the bed hangs over, it is widened down to the floor: every level of it, raised
	// from there.
	const flat = turned(bed).intersect(room), levels = [flat];
	for (let z = 0.05; flat.slice(z).area() > 0; z += 0.05) levels.push(flat.slice(z).extrude(z - 0.02).translate(0, 0, 0.02));
	const wanted = Manifold.union(levels).volume();
	const share = name === 'sideways' ? 0.02 : 0.01; // its barb's tip is made wide enough to print, down to the floor
	ok = agree(`${name} ${half}: bed`, printed.volume(), wanted, share * wanted, 'mm³') && ok;
	let wider = 0;
	for (let z = 0.05; z < 0.6; z += 0.05) {
		wider = Math.max(wider, printed.slice(z + 0.05).subtract(printed.slice(z)).area());
	}
	ok = agree(`${name} ${half}: under an overhang`, wider, 0, 0.05, 'mm²') && ok;
}
process.exit(ok ? 0 : 1);
