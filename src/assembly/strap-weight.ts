import type { Stance } from '../bag/types.ts';
import type { Model } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';
import type { Patch } from './patch.ts';
import type { Rig } from './rig.ts';

/** The model with its straps: their vertices after the mesh's own, their weight, and the force with which they press on what they touch. */
export function withStraps(model: Model, rig: Rig, stance: Stance): Model {
  if (rig.straps.length === 0) return model;
  const n = model.vertexCount + rig.extra.length / 3,
    grown = new Float64Array(n);
  grown.set(model.mass);
  for (const s of rig.straps) {
    // Each sewn-down end is the strap's own piece of the patch's height; a strap that carries nothing hangs half on each patch.
    const lies = (s.strap.anchors[0].height + s.strap.anchors[1].height) / 2,
      ends = (s.nodes.length > 0 ? lies / 2 : (lies + s.strap.length + lies) / 2) * s.perLength;
    for (const p of s.patches)
      p.verts.forEach((v, i) => {
        grown[v] = grown[v]! + ends * p.weights[i]!;
      });
    for (let k = 0; k <= s.nodes.length; k++) {
      if (s.nodes.length === 0 || !rig.cables) break;
      const half = (rig.cables.rest[s.firstCable + k]! * s.perLength) / 2;
      const give = (node: number | undefined, patch: Patch): void => {
        if (node !== undefined) grown[node] = grown[node]! + half;
        else
          patch.verts.forEach((v, i) => {
            grown[v] = grown[v]! + half * patch.weights[i]!;
          });
      };
      give(s.nodes[k - 1], s.patches[0]);
      give(s.nodes[k], s.patches[1]);
    }
  }
  if (!rig.cables || stance.kind !== 'hung') return { ...model, mass: grown };
  const held = new Uint8Array(n),
    pressed = new Float64Array(n),
    load = model.load && new Float64Array(n * 3);
  held.set(model.held);
  load?.set(model.load!);
  let total = 0;
  for (const m of grown) total += m * GRAVITY;
  if (model.load) for (let v = 2; v < model.load.length; v += 3) total -= model.load[v]!;
  const carrying = rig.straps.filter((s) => s.nodes.length > 0);
  for (const s of carrying)
    for (const [k, v] of s.nodes.entries()) {
      // Two legs share the weight; over a bar of radius R a piece l long presses with T l / R.
      const l = (rig.cables.rest[s.firstCable + k]! + rig.cables.rest[s.firstCable + k + 1]!) / 2;
      pressed[v] = (total / (2 * carrying.length)) * Math.min(1, (2 * l) / stance.diameter);
    }
  return { ...model, vertexCount: n, mass: grown, held, pressed, supports: rig.supports, cables: rig.cables, ...(load ? { load } : {}) };
}
