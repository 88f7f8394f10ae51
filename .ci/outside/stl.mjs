// Binary STL: 80 bytes of header, a count, then 50 bytes a facet, which are its
// normal, three corners and two bytes of no meaning.
import {readFileSync, writeFileSync} from 'node:fs';

const header = 84, facet = 50, normal = 12;

// readSTL returns the triangles of a file, with corners that agree in every
// bit welded, -0 being 0.
export function readSTL(file) {
	const data = readFileSync(file);
	const view = new DataView(data.buffer, data.byteOffset, data.length);
	const count = view.getUint32(80, true);
	if (data.length !== header + facet * count) {
		throw new Error(`${file}: ${count} facets take ${header + facet * count} bytes, the file has ${data.length}`);
	}
	const triVerts = new Uint32Array(3 * count);
	const points = new Welder(count);
	for (let t = 0; t < count; t++) {
		for (let corner = 0; corner < 3; corner++) {
			const at = header + facet * t + normal + 12 * corner;
			triVerts[3 * t + corner] = points.number(view.getFloat32(at, true), view.getFloat32(at + 4, true), view.getFloat32(at + 8, true));
		}
	}
	return {vertProperties: points.all(), triVerts};
}

// Welder numbers points in a table of their hashes: a Map of a million keys
// would take most of a run's time.
class Welder {
	constructor(triangles) {
		const slots = 2 ** Math.ceil(Math.log2(4 * triangles + 16)); // corners are 3 to a triangle
		this.slots = new Int32Array(slots).fill(-1);
		this.xyz = new Float32Array(9 * triangles);
		this.bits = new Int32Array(this.xyz.buffer);
		this.count = 0;
	}

	number(x, y, z) {
		const {slots, bits} = this;
		const next = 3 * this.count;
		this.xyz[next] = x + 0; // -0 + 0 is 0
		this.xyz[next + 1] = y + 0;
		this.xyz[next + 2] = z + 0;
		const a = bits[next], b = bits[next + 1], c = bits[next + 2];
		let hash = Math.imul(Math.imul(Math.imul(a, 0x9e3779b1) ^ b, 0x85ebca6b) ^ c, 0xc2b2ae35);
		hash ^= hash >>> 15;
		for (let slot = hash & slots.length - 1; ; slot = slot + 1 & slots.length - 1) {
			const known = slots[slot];
			if (known < 0) {
				slots[slot] = this.count;
				return this.count++;
			}
			if (bits[3 * known] === a && bits[3 * known + 1] === b && bits[3 * known + 2] === c) return known;
		}
	}

	all() {
		return this.xyz.slice(0, 3 * this.count);
	}
}

// writeSTL writes triangles, whose points take numProp numbers each.
export function writeSTL(file, {numProp, vertProperties: v, triVerts}) {
	const count = triVerts.length / 3;
	const data = Buffer.alloc(header + facet * count);
	const view = new DataView(data.buffer, data.byteOffset, data.length);
	view.setUint32(80, count, true);
	let at = header;
	const put = (x, y, z) => {
		view.setFloat32(at, x, true);
		view.setFloat32(at + 4, y, true);
		view.setFloat32(at + 8, z, true);
		at += 12;
	};
	for (let i = 0; i < triVerts.length; i += 3, at += 2) {
		const a = numProp * triVerts[i], b = numProp * triVerts[i + 1], c = numProp * triVerts[i + 2];
		const ux = v[b] - v[a], uy = v[b + 1] - v[a + 1], uz = v[b + 2] - v[a + 2];
		const wx = v[c] - v[a], wy = v[c + 1] - v[a + 1], wz = v[c + 2] - v[a + 2];
		const nx = uy * wz - uz * wy, ny = uz * wx - ux * wz, nz = ux * wy - uy * wx;
		const length = Math.hypot(nx, ny, nz) || 1;
		put(nx / length, ny / length, nz / length);
		put(v[a], v[a + 1], v[a + 2]);
		put(v[b], v[b + 1], v[b + 2]);
		put(v[c], v[c + 1], v[c + 2]);
	}
	writeFileSync(file, data);
}

// enclosed returns the volume within triangles of three numbers a point.
export function enclosed({vertProperties: v, triVerts}) {
	let sum = 0;
	for (let i = 0; i < triVerts.length; i += 3) {
		const a = 3 * triVerts[i], b = 3 * triVerts[i + 1], c = 3 * triVerts[i + 2];
		sum += v[a] * (v[b + 1] * v[c + 2] - v[b + 2] * v[c + 1]) +
			v[a + 1] * (v[b + 2] * v[c] - v[b] * v[c + 2]) +
			v[a + 2] * (v[b] * v[c + 1] - v[b + 1] * v[c]);
	}
	return sum / 6;
}
