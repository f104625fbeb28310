import { Document, WebIO } from '@gltf-transform/core';
import type { Bag } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { VERSION } from '../version.ts';
import { panelSurfaces } from './panel-surface.ts';

/** Colours of stacks in the order in which they are met, linear, so that neighbours can be told apart. Not the colour of any cloth. */
const COLOURS: readonly (readonly [number, number, number, number])[] = [
  [0.55, 0.42, 0.26, 1],
  [0.22, 0.34, 0.32, 1],
  [0.45, 0.18, 0.12, 1],
  [0.3, 0.3, 0.38, 1],
  [0.5, 0.47, 0.4, 1],
];

/** z up to y up, as the standard wants: x stays, the front looks along +z. */
function turned(v: Float64Array): Float32Array {
  const out = new Float32Array(v.length);
  for (let i = 0; i < v.length; i += 3) {
    out[i] = v[i]!;
    out[i + 1] = v[i + 2]!;
    out[i + 2] = -v[i + 1]!;
  }
  return out;
}

/**
 * The settled bag as glTF 2.0 binary: a node for each panel by its name, metres, y up, normals, one double-sided material for each stack, and texture coordinates in
 * metres across and along the grain, so that a weave is to scale. Places are rounded to float32. Same bag, same bytes.
 * Parameters: bag; name of the option; mesh; x: 3 per vertex, m, z up. Source of the format: ISO/IEC 12113 (glTF 2.0).
 */
export async function bagGlb(bag: Bag, optionName: string, mesh: BagMesh, x: Float64Array): Promise<Uint8Array> {
  const option = bag.options.find((o) => o.name === optionName)!;
  const doc = new Document();
  doc.getRoot().getAsset().generator = `slumpline ${VERSION}`;
  const buffer = doc.createBuffer();
  const root = doc.createNode(bag.name);
  const scene = doc.createScene(`${bag.name}: ${option.name}`).addChild(root);
  doc.getRoot().setDefaultScene(scene);
  const materials = new Map<string, ReturnType<Document['createMaterial']>>();
  const materialOf = (stack: string): ReturnType<Document['createMaterial']> => {
    const known = materials.get(stack);
    if (known) return known;
    const made = doc
      .createMaterial(stack)
      .setBaseColorFactor([...COLOURS[materials.size % COLOURS.length]!])
      .setRoughnessFactor(0.9)
      .setMetallicFactor(0)
      .setDoubleSided(true);
    materials.set(stack, made);
    return made;
  };
  for (const surface of panelSurfaces(bag, mesh, x)) {
    if (surface.regions.length === 0) continue;
    const panel = bag.panels[surface.panel]!;
    const position = doc.createAccessor().setType('VEC3').setArray(turned(surface.positions)).setBuffer(buffer);
    const normal = doc.createAccessor().setType('VEC3').setArray(turned(surface.normals)).setBuffer(buffer);
    // The standard's v runs down the picture; along the grain is up.
    const places = Float32Array.from(surface.uv, (v, i) => (i % 2 === 0 ? v : -v));
    const uv = doc.createAccessor().setType('VEC2').setArray(places).setBuffer(buffer);
    const shape = doc.createMesh(surface.name);
    for (const { region, corners } of surface.regions) {
      const stack = region === 0 ? option.stacks[panel.name]! : option.regions[`${panel.name}/${panel.regions[region - 1]!.name}`]!;
      shape.addPrimitive(
        doc
          .createPrimitive()
          .setAttribute('POSITION', position)
          .setAttribute('NORMAL', normal)
          .setAttribute('TEXCOORD_0', uv)
          .setIndices(doc.createAccessor().setType('SCALAR').setArray(corners).setBuffer(buffer))
          .setMaterial(materialOf(stack)),
      );
    }
    root.addChild(doc.createNode(surface.name).setMesh(shape));
  }
  return new WebIO().writeBinary(doc);
}
