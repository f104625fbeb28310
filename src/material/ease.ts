import type { Four, Layer } from '../bag/types.ts';
import type { TautLayer } from './types.ts';

/** Ease of a layer along its own warp and weft, as shares of the panel. */
export type Shares = readonly [number, number];

/**
 * A layer cut larger than the panel it hangs in, by ease [e1, e2] along its own warp and weft (0.02 = cut 2 % longer).
 *   mass of a panel's worth of it: areal mass x (1 + e1)(1 + e2), exact;
 *   pull along 1, per width of the panel, stretched by the strain s of the panel: 0 up to s = e1, then C (1 + e2) (s - e1)/(1 + e1): the layer has gone taut
 *   at e1 and only what goes beyond stretches it, over its own, longer length; its width is longer too.
 * Assumptions (estimates): the slack lies in ripples that push on nothing; the layer still bends with its panel at its own rigidity; taut one way it gives way
 * freely the other way, and shear does not draw it taut (both on the soft side). The solver feels it go taut (solver/elastic/tension-only.ts).
 */
export const massFactor = (ease: Shares): number => (1 + ease[0]) * (1 + ease[1]);

/** Pull of an eased layer, N/m. Parameters: inPlane N/m; strain of the panel and ease along one direction; ease across it. */
export const slackPull = (inPlane: number, strain: number, ease: number, across = 0): number =>
  strain <= ease ? 0 : (inPlane * (1 + across) * (strain - ease)) / (1 + ease);

/** Stiffness of a layer pulled in one direction and free to give way in the other, N/m: C11 - C12^2/C22 along warp and weft. */
const alone = ([c11, c22, c12]: Four): Shares => [c11 - (c12 * c12) / c22, c22 - (c12 * c12) / c11];

/** In-plane stiffness [C11, C22, C12, C66] that an eased layer adds at rest, in its own axes: a direction with slack adds none, nor does shear then. */
export function slackInPlane(inPlane: Four, [warp, weft]: Shares): Four {
  if (warp === 0 && weft === 0) return inPlane;
  const [along, across] = alone(inPlane);
  return [warp === 0 ? along : 0, weft === 0 ? across : 0, 0, 0];
}

/** What an eased layer adds once it is drawn straight. Parameters: its in-plane stiffness in its own axes, N/m; its ease; its warp from the laminate's, rad. */
export function tautOf(inPlane: Four, ease: Shares, warp: number): TautLayer[] {
  const pulls = alone(inPlane);
  return ([0, 1] as const).flatMap((k) => (ease[k] > 0 ? [{ angle: warp + (k * Math.PI) / 2, stiffness: pulls[k] * (1 + ease[1 - k]!), ease: ease[k] }] : []));
}

/** For each layer the one that starts its group of layers joined to one another and carries their ease; what is fused to a loose lining hangs with it. */
export function leadersOf(layers: readonly Layer[]): Layer[] {
  let leader = layers[0]!;
  return layers.map((layer, i) => {
    if (i === 0 || layer.join === 'loose') leader = layer;
    return leader;
  });
}
