import type { TemplateSource } from './template.ts';

const around = ['left', 'left-bottom', 'bottom', 'bottom-right', 'right'];
const body = { width: 'W', height: 'H', radius: ['R', 'R', 0, 0] };

/** Edges of leather are turned over once; the flap's is cut and painted. */
const turned = { top: { finish: 'turned once', width: '10 mm' } };

/** The strip is drawn upright, so that its grain runs up the sides of the bag. */
export const satchel: TemplateSource = {
  name: 'satchel',
  title: 'Rounded-corner satchel with flap',
  question: 'A satchel of front, back, one gusset strip and a flap. Question: does the weight of the flap pull the mouth forward?',
  bag: {
    wanted: 'structured',
    parameters: { W: '13 in', H: '10 in', D: '4 in', R: '2 in', fall: '0.7*H', strip: 'W + 2*H - (4 - pi)*R', SA: '5 mm' },
    panels: {
      front: { rectangle: body, open: ['top'], finishes: turned, chains: { around }, marks: { 'front rim': 'top[50%]' } },
      back: { copy: 'front', open: [] },
      gusset: { rectangle: { width: 'D', height: 'strip' }, open: ['top', 'bottom'], finishes: { ...turned, bottom: turned.top } },
      flap: {
        note: 'covers the depth of the bag and falls over the front',
        rectangle: { width: 'W', height: 'D + fall', radius: [0, 0, 'R', 'R'] },
        open: ['right', 'right-top', 'top', 'top-left', 'left'],
        marks: { 'flap edge': 'top[50%]' },
      },
    },
    seams: {
      'front gusset': { join: ['front.around', 'gusset.left'], type: 'plain', allowance: 'SA' },
      'back gusset': { join: ['back.around', 'gusset.right'], type: 'plain', allowance: 'SA' },
      'flap fold': { join: ['back.top', 'flap.bottom'], type: 'fold', allowance: 'SA' },
    },
    closures: {
      magnet: {
        kind: 'magnet',
        from: { panel: 'flap', at: ['W/2', 'D + fall - 25 mm'] },
        to: { panel: 'front', at: ['W/2', 'H - fall + 25 mm'] },
        'pull-off': '8 N',
      },
    },
    stacks: {
      'soft leather': ['chrome16'],
      'firm leather': ['veg20'],
      'thin firm leather': ['veg12'],
      'canvas boarded': ['waxed10', { fused: 'nwboard' }, { loose: 'poplin' }],
      'canvas lined': ['waxed10', { loose: 'poplin' }],
    },
    options: {
      'chrome-tanned leather': { 'every panel': 'soft leather' },
      'vegetable-tanned leather, thinner flap': { 'every panel': 'firm leather', flap: 'thin firm leather' },
      'waxed canvas on board, plain flap': { 'every panel': 'canvas boarded', flap: 'canvas lined' },
    },
    stances: { standing: { friction: 0.4, closed: 'left out' }, 'flap down': { friction: 0.4, closed: ['magnet'] } },
  },
};
