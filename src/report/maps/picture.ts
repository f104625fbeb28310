import type { Bag } from '../../bag/types.ts';
import { formatMm } from '../../units/index.ts';
import { leadRun } from '../judge.ts';
import type { MapLegend } from '../picture/legend.ts';
import type { Colouring } from '../picture/paint.ts';
import { MOST_SHOWN, picture } from '../picture/picture.ts';
import type { Result } from '../types.ts';
import { flatCurvature, flatMap } from './colouring.ts';
import { cssColour, mapColours, TIGHT_CURVATURE } from './colours.ts';
import { findingsOf } from './findings.ts';
import { scaleOf, stepColours } from './scale.ts';
import type { MapKind, SettledMaps } from './types.ts';
import { words } from './words.ts';

/** All maps that a settled bag has. */
export const MAP_NAMES = ['curvature', 'strain', 'gap', 'seams'] as const;
/** Maps that a settled bag has. */
export type MapName = (typeof MAP_NAMES)[number];

/**
 * Still picture of options of one bag with one of their maps on them, as SVG text: the picture of picture.ts, its legend, and where the map points in words.
 * The scale is the same for all. results: options of one bag, the first MOST_SHOWN are shown; maps: of each result's lead run, in the same order. Deterministic.
 */
export function mapPicture(name: MapName, bag: Bag, results: readonly Result[], maps: readonly SettledMaps[]): string {
  const shown = results.slice(0, MOST_SHOWN);
  const { colourings, legend } = name === 'curvature' ? curvature(shown) : borne(name, bag, shown, maps.slice(0, MOST_SHOWN));
  return picture(shown, { colourings, legend });
}

interface Drawn {
  readonly colourings: readonly Colouring[];
  readonly legend: MapLegend;
}

function borne(kind: MapKind, bag: Bag, results: readonly Result[], maps: readonly SettledMaps[]): Drawn {
  const scale = scaleOf(kind, maps, 'metric');
  return {
    colourings: results.map((r, i) => flatMap(kind, r.mesh, maps[i], scale)),
    legend: {
      title: words.title[kind],
      how: words.how[kind],
      colours: stepColours(),
      marks: scale.marks,
      found: results.map((r, i) => findingsOf(kind, bag, r.mesh, maps[i], scale, leadRun(r.runs)).line),
    },
  };
}

/** Radius of the bend at a place on the scale, which goes with the root of curvature, m. */
const radiusAt = (t: number): number => 1 / (TIGHT_CURVATURE * t * t);

/** A wider radius is told as flat, m: no bag shows it. Our own choice. */
const FLAT = 2;

function curvature(results: readonly Result[]): Drawn {
  const { title, how, flat, tighter, tightest, everywhereFlat } = words.curvature;
  return {
    colourings: results.map((r) => flatCurvature(r.mesh, leadRun(r.runs).positions)),
    legend: {
      title,
      how,
      colours: mapColours().map(cssColour),
      marks: [flat, ...[0.25, 0.5, 0.75].map((t) => formatMm(radiusAt(t), 0)), tighter(formatMm(radiusAt(1), 0))],
      found: results.map((r) => {
        const worst = [...leadRun(r.runs).panels].sort((a, b) => b.curvature - a.curvature)[0];
        return worst && 1 / worst.curvature < FLAT ? tightest(formatMm(1 / worst.curvature, 0), worst.name) : everywhereFlat;
      }),
    },
  };
}
