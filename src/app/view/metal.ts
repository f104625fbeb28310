/** Hardware and the parts of closures as solids that stand on the cloth: domes of feet and rivets, rings and frames of wire, discs of magnets. */
import type { BufferGeometry, Mesh, RawShaderMaterial } from 'three';
import { type Bag, type Drawn, hardwareFigures, type PanelPatch } from '../core.ts';
import { metalShape, type Shape } from './metal-shapes.ts';
import { type Flat, OnCloth } from './on-cloth.ts';
import type { ClothLook } from './palette.ts';
import type { SharedUniforms } from './programs.ts';
import { litMesh } from './straps.ts';

/** Nickel, lighter than the rods that bags hang from. */
const NICKEL: ClothLook = { cloth: 0, face: [0.46, 0.46, 0.45], lining: [0.46, 0.46, 0.45], pitch: 0.001 };
/** Far enough from the place to tell which way the panel lies there, m. */
const ASIDE = 0.004;

interface Standing {
  readonly panel: number;
  /** The place, and one a little to its right on the panel. */ readonly points: OnCloth;
  readonly shape: Shape;
  readonly at: Float32Array;
  readonly ahead: Float32Array;
  readonly mesh: Mesh<BufferGeometry, RawShaderMaterial>;
}

/** Of a bag that is shown. Follows the cloth with every `show`. */
export class Metal {
  private readonly standing: Standing[] = [];

  /** patches, names: as of Stitches. */
  constructor(bag: Bag, patches: readonly PanelPatch[], names: readonly string[], shared: SharedUniforms) {
    const put = (panel: string, at: Flat, shape: Shape): void => {
      const patch = patches.find((p) => names[p.panel] === panel);
      if (!patch) return;
      const n = shape.points.length / 3;
      const mesh = litMesh(
        { position: new Float32Array(3 * n), normal: new Float32Array(3 * n), flat: new Float32Array(2 * n), index: [...shape.index] },
        NICKEL,
        shared,
      );
      const points = new OnCloth(patch, [at, [at[0] + ASIDE, at[1]], [at[0] - ASIDE, at[1]]]);
      this.standing.push({ panel: patch.panel, points, shape, at: new Float32Array(9), ahead: new Float32Array(9), mesh });
    };
    for (const h of bag.hardware ?? []) {
      const { size, height } = hardwareFigures(h);
      for (const at of h.at) put(h.panel, at, metalShape(h.kind, size || 0.01, height));
    }
    for (const c of bag.closures ?? []) if ('ends' in c) for (const end of c.ends) put(end.panel, end.at, metalShape(c.kind, c.size, 0));
  }

  get meshes(): readonly { readonly panel: number; readonly mesh: Mesh }[] {
    return this.standing;
  }

  show(of: (panel: number) => Drawn): void {
    for (const { panel, points, shape, at, ahead, mesh } of this.standing) {
      const { position, normal } = of(panel);
      points.place(position, normal, 0, at);
      points.place(position, normal, 1, ahead);
      const n = unit(ahead[0] - at[0], ahead[1] - at[1], ahead[2] - at[2]);
      // Across, laid into the plane of the cloth.
      const [x, y, z] = [at[3] - at[6], at[4] - at[7], at[5] - at[8]];
      const along = x * n[0] + y * n[1] + z * n[2];
      const t = unit(x - along * n[0], y - along * n[1], z - along * n[2]);
      const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]];
      const to = mesh.geometry.attributes;
      for (const [from, out, origin] of [
        [shape.points, to.position.array as Float32Array, at],
        [shape.normals, to.normal.array as Float32Array, null],
      ] as const)
        for (let v = 0; v < from.length; v += 3)
          for (let k = 0; k < 3; k++) out[v + k] = (origin ? origin[k] : 0) + from[v] * t[k] + from[v + 1] * b[k] + from[v + 2] * n[k];
      to.position.needsUpdate = true;
      to.normal.needsUpdate = true;
    }
  }
}

function unit(x: number, y: number, z: number): readonly [number, number, number] {
  const l = Math.hypot(x, y, z) || 1;
  return [x / l, y / l, z / l];
}
