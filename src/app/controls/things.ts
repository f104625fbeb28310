import { svg } from '../page/dom.ts';
import type { words } from './words.ts';

export type ThingName = keyof typeof words.stance.things;

/** Outlines of the six everyday things, 24 x 24, drawn for this page. */
const DRAWN: Readonly<Record<ThingName, string>> = {
  bottle: 'M10 2h4v3.5c2 1 2.5 2 2.5 4V20a2 2 0 0 1-2 2h-5a2 2 0 0 1-2-2V9.5c0-2 .5-3 2.5-4zM7.5 13h9',
  book: 'M5 4.5A2.5 2.5 0 0 1 7.5 2H19v16H7.5A2.5 2.5 0 0 0 5 20.5zM5 20.5A1.5 1.5 0 0 0 6.5 22H19v-4M9 6.5h6',
  tin: 'M6 5c0-1.4 2.7-2.5 6-2.5S18 3.6 18 5v14c0 1.4-2.7 2.5-6 2.5S6 20.4 6 19zM6 5c0 1.4 2.7 2.5 6 2.5S18 6.4 18 5',
  tablet: 'M6 2h12a1 1 0 0 1 1 1v18a1 1 0 0 1-1 1H6a1 1 0 0 1-1-1V3a1 1 0 0 1 1-1zM7.5 5h9v13h-9zM11 20h2',
  ball: 'M12 3a9 9 0 1 0 .01 0zM4 9.5c5 2 11 2 16 0M4 14.5c5-2 11-2 16 0',
  umbrella: 'M12 2v1.5M8.5 15 12 3.5 15.5 15zM12 15v5a1.7 1.7 0 0 1-3.4 0',
};

export const thingNames = Object.keys(DRAWN) as readonly ThingName[];

export const thingPicture = (thing: ThingName): SVGSVGElement =>
  svg(
    'svg',
    { viewBox: '0 0 24 24', width: 24, height: 24, 'aria-hidden': 'true', focusable: 'false', class: 'thing' },
    svg('path', { d: DRAWN[thing], fill: 'none', stroke: 'currentColor', 'stroke-width': 1.4, 'stroke-linejoin': 'round', 'stroke-linecap': 'round' }),
  );
