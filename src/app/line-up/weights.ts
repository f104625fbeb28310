import type { Store } from '../page/store.ts';
import { weightKey } from './columns.ts';
import type { Solvers } from './solver-pool.ts';
import type { Weight } from './solver-protocol.ts';

/** Edge of the mesh that options are weighed on, m: it weighs what the cloth does, whatever the mesh. */
const EDGE = 0.03;
/** Most weights kept beside those shown. */
const MOST = 200;

/** Weight and bulk of the options that have no figures of their own: known without settling, one coarse mesh each. */
export class Weights {
  private readonly known = new Map<string, Weight>();
  private readonly asked = new Set<string>();
  constructor(
    private readonly store: Store,
    private readonly solvers: Solvers,
  ) {}

  /** Tells what is known of the bag as it is now, and has the rest weighed. */
  update(): void {
    const { bag, columns, weights } = this.store.state;
    const now: Record<string, Weight> = {};
    const unknown: string[] = [];
    for (const { name } of bag.options) {
      if (columns.some((c) => c.option === name && c.result !== null && !c.stale)) continue;
      const weight = this.known.get(weightKey(bag, name));
      if (weight) now[name] = weight;
      else if (!this.asked.has(weightKey(bag, name))) unknown.push(name);
    }
    if (unknown.length > 0) this.weigh(unknown);
    if (JSON.stringify(now) !== JSON.stringify(weights)) this.store.set({ weights: now });
  }

  /** One job for all of them: the mesh is the same, and the first who meshes need not compete with two others for the cores. */
  private weigh(options: readonly string[]): void {
    const { bag } = this.store.state;
    const keys = new Map(options.map((option) => [option, weightKey(bag, option)]));
    for (const key of keys.values()) this.asked.add(key);
    this.solvers.start({ bag, option: options[0], weigh: options, stance: bag.stances[0].name, edgeLength: EDGE, bands: [], fallEdge: null }, (say) => {
      if (say.kind !== 'weights' && say.kind !== 'failed') return;
      const weighed = say.kind === 'weights' ? Object.entries(say.weights) : [];
      // What cannot be sewn is told by its settle; it is not asked again before it has changed.
      for (const [option, key] of keys) if (say.kind === 'failed' || weighed.some(([name]) => name === option)) this.asked.delete(key);
      if (this.known.size + weighed.length > MOST) this.known.clear();
      for (const [option, weight] of weighed) this.known.set(keys.get(option)!, weight);
      this.update();
    });
  }
}
