// For each build folder named: both frames must be one manifold solid each, and
// the volume that manifold-3d finds must be the plan's.
import {basename, join} from 'node:path';
import {agree, load, plan, sorted} from './solids.mjs';

const relative = 1e-6; // the files hold single precision, both sums are in double

let ok = true;
for (const folder of process.argv.slice(2)) {
	for (const {half, mesh} of plan(folder).frames) {
		const frame = load(join(folder, `${half}.stl`));
		const {pieces, crumbs} = sorted(frame);
		console.log(`${basename(folder)} ${half}: manifold, ${pieces.length} piece(s), genus ${pieces[0].genus()}, ${crumbs} crumb(s), ` +
			`${frame.numTri()} of ${mesh.triangles} triangles kept`);
		if (pieces.length !== 1) {
			console.log(`FAIL ${folder} ${half}: a frame must be one piece`);
			ok = false;
		}
		ok = agree(`${basename(folder)} ${half} frame`, mesh.mesh_mm3, frame.volume(), relative * mesh.mesh_mm3, 'mm³') && ok;
	}
}
process.exit(ok ? 0 : 1);
