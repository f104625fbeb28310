import { BufferAttribute, BufferGeometry, Mesh, type RawShaderMaterial } from 'three';

/** k segments between welded vertices, each a quad that the vertex program widens on screen. */
export class LineSet {
  readonly mesh: Mesh<BufferGeometry, RawShaderMaterial>;
  /** verts: 2k vertex numbers. along: 2k lengths run so far, m (dashes); null: whole lines. */
  constructor(
    private readonly verts: Uint32Array,
    along: Float32Array | null,
    program: RawShaderMaterial,
  ) {
    const k = verts.length / 2;
    const geometry = new BufferGeometry();
    const side = new Float32Array(4 * k);
    const run = new Float32Array(4 * k);
    const index = new Uint32Array(6 * k);
    for (let s = 0; s < k; s++) {
      // The far end sees the segment the other way round, so its sides are swapped.
      side.set([1, -1, -1, 1], 4 * s);
      if (along) run.set([along[2 * s], along[2 * s], along[2 * s + 1], along[2 * s + 1]], 4 * s);
      index.set(
        [0, 1, 2, 1, 3, 2].map((i) => 4 * s + i),
        6 * s,
      );
    }
    geometry.setAttribute('position', new BufferAttribute(new Float32Array(12 * k), 3));
    geometry.setAttribute('other', new BufferAttribute(new Float32Array(12 * k), 3));
    geometry.setAttribute('side', new BufferAttribute(side, 1));
    geometry.setAttribute('along', new BufferAttribute(run, 1));
    geometry.setIndex(new BufferAttribute(index, 1));
    this.mesh = new Mesh(geometry, program);
  }

  /** Puts the lines at welded positions x (3n, m). Mutates the buffers in place. */
  show(x: ArrayLike<number>): void {
    const { position, other } = this.mesh.geometry.attributes;
    for (let s = 0; s < this.verts.length / 2; s++) {
      for (let end = 0; end < 2; end++) {
        const here = 3 * this.verts[2 * s + end];
        const there = 3 * this.verts[2 * s + 1 - end];
        for (let c = 0; c < 2; c++) {
          const o = 12 * s + 6 * end + 3 * c;
          for (let k = 0; k < 3; k++) {
            position.array[o + k] = x[here + k];
            other.array[o + k] = x[there + k];
          }
        }
      }
    }
    position.needsUpdate = true;
    other.needsUpdate = true;
  }
}
