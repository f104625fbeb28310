import type { BagMesh } from '../mesh/types.ts';

/**
 * OBJ text of a settled mesh: metres, z up, one group per panel, 1-based vertex numbers, seam vertices shared (written once).
 * Faces are counterclockwise seen from the panel's face. 1e-7 m digits: a tenth of a micrometre. Panel names lose their blanks, which OBJ reads as separators.
 * mesh: n vertices; x: 3n positions, m.
 */
export function meshObj(mesh: BagMesh, x: Float64Array, title: string): string {
  const lines = [`# ${title.replace(/[\r\n]+/g, ' ')}`, '# metres, z up'];
  for (let v = 0; v < mesh.vertexCount; v++) lines.push(`v ${coordinate(x[3 * v])} ${coordinate(x[3 * v + 1])} ${coordinate(x[3 * v + 2])}`);
  mesh.panelNames.forEach((name, panel) => {
    lines.push(`g ${name.trim().replace(/\s+/g, '_')}`);
    for (let t = 0; t < mesh.triPanel.length; t++) {
      if (mesh.triPanel[t] !== panel) continue;
      lines.push(`f ${mesh.triVerts[3 * t] + 1} ${mesh.triVerts[3 * t + 1] + 1} ${mesh.triVerts[3 * t + 2] + 1}`);
    }
  });
  return `${lines.join('\n')}\n`;
}

function coordinate(value: number): string {
  const text = value.toFixed(7);
  return /^-0\.0+$/.test(text) ? text.slice(1) : text;
}
