import { BufferAttribute, BufferGeometry, Mesh, type RawShaderMaterial } from 'three';
import type { Drawn, PanelPatch } from '../core.ts';
import type { ClothLook } from './palette.ts';
import { edgeProgram, type SharedUniforms } from './programs.ts';

/** The cut edge along the mouth and open hems: ribbons as deep as the cloth is thick. */
export class CutEdges {
  private readonly ribbons: { readonly mesh: Mesh<BufferGeometry, RawShaderMaterial>; readonly pairs: readonly [number, number][]; readonly panel: number }[] =
    [];

  /** rim: free edges, 2 welded vertices and a panel each; of: per panel, looks and thickness (m). */
  constructor(
    rim: { readonly verts: Uint32Array; readonly panel: Uint16Array },
    patches: readonly PanelPatch[],
    of: { readonly looks: readonly ClothLook[]; readonly thickness: readonly number[] },
    shared: SharedUniforms,
  ) {
    for (const patch of patches) {
      const local = new Map<number, number>();
      patch.verts.forEach((v, i) => {
        local.set(v, i);
      });
      const pairs: [number, number][] = [];
      rim.panel.forEach((panel, e) => {
        if (panel === patch.panel) pairs.push([local.get(rim.verts[2 * e])!, local.get(rim.verts[2 * e + 1])!]);
      });
      if (pairs.length === 0) continue;
      const geometry = new BufferGeometry();
      const inward = new Float32Array(4 * pairs.length);
      const index: number[] = [];
      pairs.forEach((_, q) => {
        inward.set([0, 0, 1, 1], 4 * q);
        index.push(4 * q, 4 * q + 1, 4 * q + 2, 4 * q + 1, 4 * q + 3, 4 * q + 2);
      });
      geometry.setAttribute('position', new BufferAttribute(new Float32Array(12 * pairs.length), 3));
      geometry.setAttribute('normal', new BufferAttribute(new Float32Array(12 * pairs.length), 3));
      geometry.setAttribute('inward', new BufferAttribute(inward, 1));
      geometry.setIndex(index);
      const mesh = new Mesh(geometry, edgeProgram(of.looks[patch.panel], of.thickness[patch.panel], shared));
      this.ribbons.push({ mesh, pairs, panel: patch.panel });
    }
  }

  get meshes(): readonly Mesh[] {
    return this.ribbons.map((r) => r.mesh);
  }

  /** Follows the cloth; of: a panel as drawn, by number. */
  show(of: (panel: number) => Drawn): void {
    for (const { mesh, pairs, panel } of this.ribbons) {
      const from = of(panel);
      for (const name of ['position', 'normal'] as const) {
        const to = mesh.geometry.attributes[name];
        pairs.forEach(([a, b], q) => {
          for (let k = 0; k < 3; k++) {
            to.array[12 * q + k] = to.array[12 * q + 6 + k] = from[name][3 * a + k];
            to.array[12 * q + 3 + k] = to.array[12 * q + 9 + k] = from[name][3 * b + k];
          }
        });
        to.needsUpdate = true;
      }
    }
  }
}
