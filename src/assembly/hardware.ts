import type { Bag, Hardware } from '../bag/types.ts';
import { hardwareFigures } from '../material/index.ts';
import { locate } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';

/** Tells the mass of every piece of hardware, kg, on each corner of the triangle it sits in: its centre of mass is where it is placed, but for its own height. */
export function eachHardware(bag: Bag, mesh: BagMesh, tell: (vertex: number, kg: number, hardware: Hardware) => void): void {
  for (const hardware of bag.hardware ?? []) {
    const { mass } = hardwareFigures(hardware);
    for (const at of hardware.at) {
      const { tri, weights } = locate(mesh, mesh.panelNames.indexOf(hardware.panel), at);
      for (let k = 0; k < 3; k++) tell(mesh.triVerts[3 * tri + k]!, weights[k]! * mass, hardware);
    }
  }
}
