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
    for (const { name } of bag.options) {
      if (columns.some((c) => c.option === name && c.result !== null && !c.stale)) continue;
      const weight = this.known.get(weightKey(bag, name));
      if (weight) now[name] = weight;
      else this.weigh(name);
    }
    if (JSON.stringify(now) !== JSON.stringify(weights)) this.store.set({ weights: now });
  }

  private weigh(option: string): void {
    const { bag } = this.store.state;
    const key = weightKey(bag, option);
    if (this.asked.has(key)) return;
    this.asked.add(key);
    this.solvers.start({ bag, option, stance: bag.stances[0].name, edgeLength: EDGE, bands: [], fallEdge: null }, (say) => {
      if (say.kind === 'weight') {
        if (this.known.size >= MOST) this.known.clear();
        this.known.set(key, { massKg: say.massKg, bulk: say.bulk });
        this.update();
      }
      // What cannot be sewn is told by its settle; it is not asked again before it has changed.
      if (say.kind === 'weight' || say.kind === 'failed') this.asked.delete(key);
    });
  }
}
