import type { SupportShape } from '../../types.ts';

/** Signed distance (positive outside) and outward unit normal at p, written to out = [d, nx, ny, nz]. Convex shapes only. */
export function distance(s: SupportShape, x: number, y: number, z: number, out: Float64Array): void {
  switch (s.kind) {
    case 'plane': {
      const [nx, ny, nz] = s.normal;
      out[0] = (x - s.point[0]) * nx + (y - s.point[1]) * ny + (z - s.point[2]) * nz;
      out[1] = nx;
      out[2] = ny;
      out[3] = nz;
      return;
    }
    case 'sphere':
      radial(x - s.centre[0], y - s.centre[1], z - s.centre[2], s.radius, out);
      return;
    case 'capsule': {
      const [ax, ay, az] = s.a,
        ux = s.b[0] - ax,
        uy = s.b[1] - ay,
        uz = s.b[2] - az;
      const len2 = ux * ux + uy * uy + uz * uz;
      const t = len2 > 0 ? Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy + (z - az) * uz) / len2)) : 0;
      radial(x - ax - t * ux, y - ay - t * uy, z - az - t * uz, s.radius, out);
      return;
    }
    case 'box':
      roundedBox(x - s.centre[0], y - s.centre[1], z - s.centre[2], s.half, s.round, out);
      return;
    case 'cylinder':
      cylinder(s, x, y, z, out);
      return;
    case 'ellipsoid':
      ellipsoid(x - s.centre[0], y - s.centre[1], z - s.centre[2], s.half, out);
      return;
    case 'posed': {
      const [a, b, c, d, e, f, g, h, i] = s.axes,
        px = x - s.origin[0],
        py = y - s.origin[1],
        pz = z - s.origin[2];
      distance(s.shape, a * px + b * py + c * pz, d * px + e * py + f * pz, g * px + h * py + i * pz, out);
      const nx = out[1]!,
        ny = out[2]!,
        nz = out[3]!;
      out[1] = a * nx + d * ny + g * nz;
      out[2] = b * nx + e * ny + h * nz;
      out[3] = c * nx + f * ny + i * nz;
      return;
    }
  }
}

/** In the half plane through the axis the cylinder is a rectangle with rounded corners. */
function cylinder(s: Extract<SupportShape, { kind: 'cylinder' }>, x: number, y: number, z: number, out: Float64Array): void {
  const wx = s.b[0] - s.a[0],
    wy = s.b[1] - s.a[1],
    wz = s.b[2] - s.a[2],
    long = Math.sqrt(wx * wx + wy * wy + wz * wz),
    ux = wx / long,
    uy = wy / long,
    uz = wz / long;
  const px = x - (s.a[0] + s.b[0]) / 2,
    py = y - (s.a[1] + s.b[1]) / 2,
    pz = z - (s.a[2] + s.b[2]) / 2,
    along = px * ux + py * uy + pz * uz;
  const rx = px - along * ux,
    ry = py - along * uy,
    rz = pz - along * uz,
    rho = Math.sqrt(rx * rx + ry * ry + rz * rz);
  const side = along < 0 ? -1 : 1,
    q = rho - (s.radius - s.round),
    w = Math.abs(along) - (long / 2 - s.round);
  const oq = Math.max(q, 0),
    ow = Math.max(w, 0),
    l = Math.sqrt(oq * oq + ow * ow);
  // Shares of the normal square to the axis and along it; inside the core the nearer face.
  const across = l > 0 ? oq / l : q >= w ? 1 : 0,
    lift = side * (l > 0 ? ow / l : q >= w ? 0 : 1);
  out[0] = (l > 0 ? l : Math.max(q, w)) - s.round;
  const k = rho > 0 ? across / rho : 0;
  out[1] = k * rx + lift * ux;
  out[2] = k * ry + lift * uy;
  out[3] = k * rz + lift * uz;
}

/** Newton steps for the nearest point of an ellipsoid; the function is convex and falls, so they come from one side and 12 mostly do. */
const NEAREST_STEPS = 60;

/**
 * Ellipsoid of half axes a: the nearest point is y_i = a_i^2 p_i/(t + a_i^2) with sum (a_i p_i/(t + a_i^2))^2 = 1.
 * Started from the left of the root, Newton comes up to it without overshooting. Source: Eberly, "Distance from a point to an ellipse, an ellipsoid" (method).
 */
function ellipsoid(px: number, py: number, pz: number, a: readonly [number, number, number], out: Float64Array): void {
  const least = Math.min(a[0], a[1], a[2]);
  // On a plane of symmetry the nearest point may lie off it; a hair to one side gives one of the two.
  const y0 = Math.max(Math.abs(px), 1e-12 * a[0]),
    y1 = Math.max(Math.abs(py), 1e-12 * a[1]),
    y2 = Math.max(Math.abs(pz), 1e-12 * a[2]);
  // Counted from the pole of the shortest axis, t = s - least^2, so that near the middle nothing cancels.
  const A = a[0] * a[0] - least * least,
    B = a[1] * a[1] - least * least,
    C = a[2] * a[2] - least * least;
  let s = Math.max(a[0] * y0 - A, a[1] * y1 - B, a[2] * y2 - C);
  for (let k = 0; k < NEAREST_STEPS; k++) {
    const u = (a[0] * y0) / (s + A),
      v = (a[1] * y1) / (s + B),
      w = (a[2] * y2) / (s + C);
    const f = u * u + v * v + w * w - 1;
    if (f <= 0) break;
    const step = f / (2 * ((u * u) / (s + A) + (v * v) / (s + B) + (w * w) / (s + C)));
    if (s + step === s) break;
    s += step;
  }
  const sx = px < 0 ? -1 : 1,
    sy = py < 0 ? -1 : 1,
    sz = pz < 0 ? -1 : 1;
  const qx = (a[0] * a[0] * y0) / (s + A),
    qy = (a[1] * a[1] * y1) / (s + B),
    qz = (a[2] * a[2] * y2) / (s + C);
  const nx = y0 / (s + A),
    ny = y1 / (s + B),
    nz = y2 / (s + C),
    n = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const dx = y0 - qx,
    dy = y1 - qy,
    dz = y2 - qz,
    l = Math.sqrt(dx * dx + dy * dy + dz * dz);
  out[0] = s >= least * least ? l : -l;
  out[1] = (sx * nx) / n;
  out[2] = (sy * ny) / n;
  out[3] = (sz * nz) / n;
}

function radial(dx: number, dy: number, dz: number, radius: number, out: Float64Array): void {
  const l = Math.sqrt(dx * dx + dy * dy + dz * dz);
  out[0] = l - radius;
  // At the very axis any direction is outward; up is as good as another and keeps the result finite.
  out[1] = l > 0 ? dx / l : 0;
  out[2] = l > 0 ? dy / l : 0;
  out[3] = l > 0 ? dz / l : 1;
}

/** Box of half sizes `half` whose edges are rounded by `round` (inside the half sizes). */
function roundedBox(px: number, py: number, pz: number, half: readonly [number, number, number], round: number, out: Float64Array): void {
  const qx = Math.abs(px) - (half[0] - round),
    qy = Math.abs(py) - (half[1] - round),
    qz = Math.abs(pz) - (half[2] - round);
  const ox = Math.max(qx, 0),
    oy = Math.max(qy, 0),
    oz = Math.max(qz, 0),
    l = Math.sqrt(ox * ox + oy * oy + oz * oz);
  const sx = px < 0 ? -1 : 1,
    sy = py < 0 ? -1 : 1,
    sz = pz < 0 ? -1 : 1;
  if (l > 0) {
    out[0] = l - round;
    out[1] = (sx * ox) / l;
    out[2] = (sy * oy) / l;
    out[3] = (sz * oz) / l;
    return;
  }
  // Inside the core: the nearest face.
  const m = Math.max(qx, qy, qz);
  out[0] = m - round;
  out[1] = m === qx ? sx : 0;
  out[2] = m === qy && m !== qx ? sy : 0;
  out[3] = m === qz && m !== qx && m !== qy ? sz : 0;
}
