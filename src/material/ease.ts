import type { Four, Layer } from '../bag/types.ts';

/**
 * A layer cut larger than the panel it hangs in, by ease [e1, e2] along its own warp and weft (0.02 = cut 2 % longer).
 *   mass of a panel's worth of it: areal mass x (1 + e1)(1 + e2), exact;
 *   pull along a direction stretched by the strain s of the panel: 0 up to s = e, then C (s - e)/(1 + e): the layer has gone taut at e and only what
 *   goes beyond stretches it, over its own, longer length.
 * Assumptions (estimates): the slack lies in ripples that push on nothing; the layer still bends with its panel at its own rigidity.
 * Where it stops: the solver's sheet is linear and takes the slack branch, so a panel stretched beyond its lining's ease is drawn too soft.
 */
export const massFactor = (ease: readonly [number, number]): number => (1 + ease[0]) * (1 + ease[1]);

/** Pull of an eased layer, N/m. Parameters: inPlane N/m; strain of the panel; ease; all along one direction. */
export const slackPull = (inPlane: number, strain: number, ease: number): number => (strain <= ease ? 0 : (inPlane * (strain - ease)) / (1 + ease));

/** In-plane stiffness [C11, C22, C12, C66] that an eased layer adds at rest, in its own axes: a direction with slack adds none, nor does shear then. */
export function slackInPlane(inPlane: Four, [warp, weft]: readonly [number, number]): Four {
  if (warp === 0 && weft === 0) return inPlane;
  const [c11, c22, c12] = inPlane;
  // Held in one direction alone, free to give way in the other: C11 - C12^2/C22.
  return [warp === 0 ? c11 - (c12 * c12) / c22 : 0, weft === 0 ? c22 - (c12 * c12) / c11 : 0, 0, 0];
}

/** Ease of the layer that starts each layer's group of layers joined to one another; what is fused to a loose lining hangs with it. */
export function easeOf(layers: readonly Layer[]): (readonly [number, number])[] {
  let ease: readonly [number, number] = [0, 0];
  return layers.map((layer, i) => {
    if (i === 0 || layer.join === 'loose') ease = layer.ease ?? [0, 0];
    return ease;
  });
}
