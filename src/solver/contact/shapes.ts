import type { SupportShape } from '../types.ts';

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
  }
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
