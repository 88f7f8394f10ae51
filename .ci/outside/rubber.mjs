// For each build folder named: what a frame leaves of a block up to the fill
// line is the rubber. It must be one piece, and its volume the plan's.
import {basename, join} from 'node:path';
import {CrossSection, agree, load, plan, sorted} from './solids.mjs';

const share = 5e-4; // of the volume: what halfpour integrates to

// rubber cuts the frame out of a block that ends within walls and floor, so
// that the frame alone shapes what is left.
function rubber(frame, {inside_mm: [x, y, fill], outside_mm: [outX, outY], floor_mm: floor}) {
	const {min, max} = frame.boundingBox();
	const wall = Math.min(outX - x, outY - y) / 2; // the tabs to pry at are on one pair of sides
	const bottom = 0.87 * floor; // below the keys' recesses
	return CrossSection.square([x, y], true).offset(0.25 * wall, 'Round', 2, 64)
		.extrude(fill + bottom)
		.translate((min[0] + max[0]) / 2, (min[1] + max[1]) / 2, -bottom)
		.subtract(frame);
}

let ok = true;
for (const folder of process.argv.slice(2)) {
	const {frames, rubber: {halves}} = plan(folder);
	frames.forEach((half, i) => {
		const name = `${basename(folder)} ${half.half}`;
		const outside = rubber(load(join(folder, `${half.half}.stl`)), half);
		const {pieces} = sorted(outside);
		if (pieces.length !== 1) {
			console.log(`FAIL ${name}: the rubber must be one piece, it is ${pieces.length}`);
			ok = false;
		}
		const {low, best, high} = halves[i].volume_ml;
		const volume = outside.volume() / 1000;
		ok = agree(`${name} rubber`, best, volume, share * volume, 'ml') && ok;
		if (volume < low || volume > high) {
			console.log(`FAIL ${name}: outside the certified ${low.toFixed(4)} to ${high.toFixed(4)} ml`);
			ok = false;
		}
	});
}
process.exit(ok ? 0 : 1);
