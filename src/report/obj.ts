import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { clothPlaces } from './shapes/panel-surface.ts';

/**
 * OBJ text of a settled mesh: metres, z up, one group per panel, 1-based vertex numbers, seam vertices shared (written once).
 * Faces are counterclockwise seen from the panel's face. 1e-7 m digits: a tenth of a micrometre. Panel names lose their blanks, which OBJ reads as separators.
 * mesh: n vertices; x: 3n positions, m. bag: texture coordinates as well, in metres across and along the grain of each panel, so that a weave is to scale.
 */
export function meshObj(mesh: BagMesh, x: Float64Array, title: string, bag?: Pick<Bag, 'panels'>): string {
  const lines = [`# ${title.replace(/[\r\n]+/g, ' ')}`, `# metres, z up${bag ? '; texture coordinates in metres, v along the grain' : ''}`];
  for (let v = 0; v < mesh.vertexCount; v++) lines.push(`v ${coordinate(x[3 * v])} ${coordinate(x[3 * v + 1])} ${coordinate(x[3 * v + 2])}`);
  const corner = bag ? texture(clothPlaces(bag, mesh), lines) : null;
  mesh.panelNames.forEach((name, panel) => {
    lines.push(`g ${name.trim().replace(/\s+/g, '_')}`);
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] !== panel) continue;
      lines.push(`f ${[0, 1, 2].map((k) => `${mesh.triVerts[3 * t + k] + 1}${corner ? `/${corner[3 * t + k]}` : ''}`).join(' ')}`);
    }
  });
  return `${lines.join('\n')}\n`;
}

/** Writes each place on the cloth once; its number, from 1, for every triangle corner. */
function texture(places: Float64Array, lines: string[]): Uint32Array {
  const known = new Map<string, number>();
  return Uint32Array.from({ length: places.length / 2 }, (_, c) => {
    const text = `vt ${coordinate(places[2 * c])} ${coordinate(places[2 * c + 1])}`;
    const number = known.get(text);
    if (number !== undefined) return number;
    lines.push(text);
    known.set(text, known.size + 1);
    return known.size;
  });
}

function coordinate(value: number): string {
  const text = value.toFixed(7);
  return /^-0\.0+$/.test(text) ? text.slice(1) : text;
}
