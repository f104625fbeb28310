import { readyForArcs } from './arcs.ts';
import { reactions, rest } from './rest/settle.ts';
import type { SettleOptions } from './rest/settle-run.ts';
import { createSystem } from './system.ts';
import type { Model, Settled } from './types.ts';

/** One model from positions to rest: the general entry, for swatches and any other program. x0 is not mutated. */
export function settle(model: Model, x0: Float64Array, o: SettleOptions = {}): Settled {
  readyForArcs();
  const sys = createSystem(model);
  const r = rest(sys, x0, o);
  const f = reactions(sys, r.x, r.formulation),
    reaction = new Float64Array(x0.length);
  for (let i = 0; i < reaction.length; i++) reaction[i] = f.held[i]! + f.supports[i]!;
  return {
    status: r.status,
    x: r.x,
    residual: r.residual,
    iterations: r.iterations,
    factorisations: r.factorisations,
    stable: r.stable,
    reaction,
    contact: { touching: sys.contact.touching, deepestPenetration: sys.contact.deepest },
    energy: { stretch: r.energies.stretch, bend: r.energies.bend, weight: r.energies.weight },
  };
}
