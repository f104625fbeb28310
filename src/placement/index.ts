/** The sewn start shape of the flat panels. Never imports material. */
export { isBase } from './base.ts';
export { bulge, bulging, placePanels, placingPanels } from './place-panels.ts';
