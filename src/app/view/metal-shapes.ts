/** Solids of metal as they stand on cloth: x and y in the cloth, z out of its face, m. */
export interface Shape {
  /** 3 per point, m. */ readonly points: readonly number[];
  readonly normals: readonly number[];
  readonly index: readonly number[];
}

const ROUND = 16;
const WIRE = 8;
/** Wire that rings and frames are bent from, by the strap they take, and stamped plates, m: 3.8 mm for a strap of 25 mm, as their weights are reckoned. */
const bentOf = (size: number): number => Math.min(0.005, Math.max(0.0018, 0.152 * size));
const PLATE = 0.0012;

const joined = (shapes: readonly Shape[]): Shape => {
  const points: number[] = [];
  const normals: number[] = [];
  const index: number[] = [];
  for (const s of shapes) {
    const first = points.length / 3;
    points.push(...s.points);
    normals.push(...s.normals);
    index.push(...s.index.map((i) => i + first));
  }
  return { points, normals, index };
};

/** A profile turned about z: [radius, height] from the outside up to the middle. */
function turned(profile: readonly (readonly [number, number])[]): Shape {
  const points: number[] = [];
  const normals: number[] = [];
  const index: number[] = [];
  for (let k = 0; k + 1 < profile.length; k++) {
    const [[r0, z0], [r1, z1]] = [profile[k], profile[k + 1]];
    // Square to the profile, outward.
    const l = Math.hypot(z1 - z0, r0 - r1) || 1;
    const [nr, nz] = [(z1 - z0) / l, (r0 - r1) / l];
    const first = points.length / 3;
    for (let i = 0; i <= ROUND; i++) {
      const a = (2 * Math.PI * i) / ROUND;
      const [c, s] = [Math.cos(a), Math.sin(a)];
      points.push(r0 * c, r0 * s, z0, r1 * c, r1 * s, z1);
      normals.push(nr * c, nr * s, nz, nr * c, nr * s, nz);
      const o = first + 2 * i;
      if (i > 0) index.push(o - 2, o, o + 1, o - 2, o + 1, o - 1);
    }
  }
  return { points, normals, index };
}

/** Wire bent to a closed line of [x, y], lying on the cloth. */
function wire(line: readonly (readonly [number, number])[], thick: number): Shape {
  const points: number[] = [];
  const normals: number[] = [];
  const index: number[] = [];
  const n = line.length;
  line.forEach(([x, y], i) => {
    const [a, b] = [line[(i + n - 1) % n], line[(i + 1) % n]];
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const out = [(b[1] - a[1]) / l, -(b[0] - a[0]) / l];
    for (let k = 0; k < WIRE; k++) {
      const t = (2 * Math.PI * k) / WIRE;
      const [c, s] = [Math.cos(t), Math.sin(t)];
      points.push(x + (thick / 2) * c * out[0], y + (thick / 2) * c * out[1], (thick / 2) * (1 + s));
      normals.push(c * out[0], c * out[1], s);
      const [p, q] = [WIRE * i + k, WIRE * i + ((k + 1) % WIRE)];
      const [p2, q2] = [WIRE * ((i + 1) % n) + k, WIRE * ((i + 1) % n) + ((k + 1) % WIRE)];
      index.push(p, p2, q2, p, q2, q);
    }
  });
  return { points, normals, index };
}

const circle = (r: number): (readonly [number, number])[] =>
  Array.from({ length: 2 * ROUND }, (_, i) => [r * Math.cos((Math.PI * i) / ROUND), r * Math.sin((Math.PI * i) / ROUND)]);

/** A frame with round corners, w by h about its middle. */
function frame(w: number, h: number): (readonly [number, number])[] {
  const r = Math.min(w, h) / 5;
  const corners: readonly (readonly [number, number, number])[] = [
    [w / 2 - r, h / 2 - r, 0],
    [-w / 2 + r, h / 2 - r, 1],
    [-w / 2 + r, -h / 2 + r, 2],
    [w / 2 - r, -h / 2 + r, 3],
  ];
  return corners.flatMap(([x, y, q]) =>
    [0, 1, 2, 3].map((k): readonly [number, number] => {
      const a = (Math.PI / 2) * (q + k / 3);
      return [x + r * Math.cos(a), y + r * Math.sin(a)];
    }),
  );
}

/** A straight bar across the middle. */
const bar = (w: number, thick: number): Shape => wire([[-w / 2, 0.0004], [w / 2, 0.0004], [w / 2, -0.0004], [-w / 2, -0.0004]], thick); // biome-ignore format: corners

/** A flat plate of the given outline. */
function plate(outline: readonly (readonly [number, number])[], thick: number): Shape {
  const n = outline.length;
  const points: number[] = [];
  const normals: number[] = [];
  const index: number[] = [];
  for (const z of [thick]) {
    for (const [x, y] of outline) {
      points.push(x, y, z);
      normals.push(0, 0, 1);
    }
    for (let i = 1; i + 1 < n; i++) index.push(0, i, i + 1);
  }
  outline.forEach(([x, y], i) => {
    const [u, v] = outline[(i + 1) % n];
    const l = Math.hypot(u - x, v - y) || 1;
    const o = points.length / 3;
    points.push(x, y, 0, u, v, 0, u, v, thick, x, y, thick);
    for (let k = 0; k < 4; k++) normals.push((v - y) / l, (x - u) / l, 0);
    index.push(o, o + 1, o + 2, o, o + 2, o + 3);
  });
  return { points, normals, index };
}

const dome = (r: number, h: number): Shape =>
  turned([
    [r, 0],
    [r, 0.35 * h],
    [0.85 * r, 0.7 * h],
    [0.5 * r, 0.94 * h],
    [0, h],
  ]);
/** Both sides of the cloth: a rivet's or a snap's head in front, and the other behind. */
function bothSides(shape: Shape): Shape {
  const behind: Shape = {
    points: shape.points.map((v, i) => (i % 3 === 2 ? -v : v)),
    normals: shape.normals.map((v, i) => (i % 3 === 2 ? -v : v)),
    index: shape.index.map((_, i, all) => all[3 * Math.floor(i / 3) + [0, 2, 1][i % 3]]),
  };
  return joined([shape, behind]);
}

/** What a piece looks like. size and height, m: those of hardwareFigures, or of a closure's part. */
export function metalShape(kind: string, size: number, height: number): Shape {
  const r = size / 2;
  const bent = bentOf(size);
  switch (kind) {
    case 'foot':
      return dome(r, height || 0.6 * size);
    case 'rivet':
      return bothSides(dome(r, 0.28 * size));
    case 'snap':
      return bothSides(dome(r, 0.2 * size));
    case 'magnet':
      return bothSides(
        turned([
          [r, 0],
          [r, 0.002],
          [0.9 * r, 0.0028],
          [0.3 * r, 0.0028],
          [0.25 * r, 0.0022],
          [0, 0.0022],
        ]),
      );
    case 'stud':
      return turned([
        [0.6 * r, 0],
        [0.6 * r, 0.5 * size],
        [r, 0.65 * size],
        [0.9 * r, 0.95 * size],
        [0.5 * r, 1.1 * size],
        [0, 1.15 * size],
      ]);
    case 'ring':
    case 'hook':
      return wire(circle(r + bent / 2), bent);
    case 'buckle':
      return joined([wire(frame(size + bent, 0.8 * size + bent), bent), bar(size + bent, bent)]);
    case 'slider':
      return joined([wire(frame(size + bent, 0.6 * size + bent), bent), bar(size + bent, bent)]);
    case 'turn lock':
    case 'clasp':
      return joined([plate(frame(size, 0.6 * size), 2 * PLATE), raised(plate(frame(0.5 * size, 0.16 * size), 0.006), 2 * PLATE)]);
    case 'corner plate':
      return plate(
        [
          [0, 0],
          [size, 0],
          [0, size],
        ],
        PLATE,
      );
    default:
      return dome(r, 0.3 * size);
  }
}

const raised = (shape: Shape, by: number): Shape => ({ ...shape, points: shape.points.map((v, i) => (i % 3 === 2 ? v + by : v)) });
