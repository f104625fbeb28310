import { BufferAttribute, DoubleSide, GLSL3, RawShaderMaterial, Vector2 } from 'three';
import light from '../../../shaders/light.glsl?raw';
import scaleCode from '../../../shaders/scale.glsl?raw';
import seamFrag from '../../../shaders/seam.frag?raw';
import seamVert from '../../../shaders/seam.vert?raw';
import type { HeatShade } from '../page/store.ts';
import { LineSet } from '../view/line-set.ts';
import type { Picture } from '../view/picture.ts';
import { PRECISION, type SharedUniforms } from '../view/programs.ts';
import { LINE_WIDTH, type Scale, type SettledMaps } from './core.ts';

/** A seam's line's shift toward the viewer in clip depth: over seam lines, under a pointed-out outline. */
const NEARER = 3e-4;

/** What cloth.vert takes for "drawn plain". */
const PLAIN = 0.5;

const seamProgram = (shared: SharedUniforms): RawShaderMaterial =>
  new RawShaderMaterial({
    glslVersion: GLSL3,
    vertexShader: seamVert,
    fragmentShader: PRECISION + light + scaleCode + seamFrag,
    side: DoubleSide,
    uniforms: { uSize: shared.uSize, uScale: shared.uScale, uWidth: { value: new Vector2(...LINE_WIDTH) }, uNearer: { value: NEARER } },
  });

/** Takes a seam map's lines off a picture. */
const lines = new WeakMap<Picture, LineSet>();

/** Puts one map of a settled state on the picture that shows it. Positions: 3n, m, those the map was made of. Mutates the picture. */
export function paint(picture: Picture, shade: HeatShade, maps: SettledMaps, scale: Scale, positions: ArrayLike<number>): void {
  const old = lines.get(picture);
  if (old) {
    picture.scene.remove(old.mesh);
    old.mesh.geometry.dispose();
    old.mesh.material.dispose();
    lines.delete(picture);
  }
  for (const { patch, cloth } of picture.parts) {
    const value = (i: number): number =>
      shade === 'seams' ? PLAIN : 1 + scale.at(shade === 'strain' ? maps.strain.values[patch.panel][i] : maps.gap.values[patch.verts[i]]);
    cloth.geometry.setAttribute(
      'heat',
      new BufferAttribute(
        Float32Array.from(patch.verts, (_, i) => value(i)),
        1,
      ),
    );
  }
  if (shade !== 'seams') return;
  const { edgeVerts, values } = maps.seams;
  const made = new LineSet(edgeVerts, Float32Array.from(values, scale.at), seamProgram(picture.shared));
  made.show(positions);
  picture.add(made.mesh, 5);
  lines.set(picture, made);
}
