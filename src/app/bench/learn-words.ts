/** Words of "Predict first" and of the short notes. */
export const learnWords = {
  predict: 'Predict first',
  how: 'Write down what you expect before you look at the figures. They stay hidden until you have.',
  expected: 'You expect',
  asks: {
    cantilever: { what: 'How far does it hang over at 41.5°?', unit: 'length' },
    heart: { what: 'How tall is the heart loop of this strip?', unit: 'length' },
    standing: { what: 'How tall does a strip of it stand by itself?', unit: 'length' },
    tube: { what: 'How tall is the tube as it lies on the table?', unit: 'length' },
    drape: { what: 'What is its drape coefficient?', unit: 'percent' },
  },
  hint: {
    length: { metric: 'a length, such as 60 mm', inch: 'a length, such as 2 1/2 in', both: 'a length, such as 2 1/2 in or 60 mm' },
    percent: '0 (hangs straight) to 100 (a board)',
  },
  wrong: { length: 'Expected a length of more than nothing.', percent: 'Expected 0 to 100.' },
  show: 'Compare',
  columns: { you: 'You', hand: 'By hand', program: 'The program' },
  off: (percent: string): string => `You were ${percent} off.`,
  near: 'Within 5 %: as near as a careful reading.',
  waiting: 'the piece is still settling',
  hidden: 'Hidden until you have written down what you expect.',
  noHand: 'no closed form',
  byHand: 'By hand',
  notes: 'What these words mean',
  note: {
    'Bending length':
      'Half the length that hangs over an edge when edge and tip lie 41.5° below level. It grows with stiffness and shrinks with weight: c³ = B / w.',
    'Drape coefficient':
      'A round piece lies on a smaller disc. The shadow of what hangs over, as a part of the whole ring: 100 % for a board, 0 % for cloth that hangs straight down.',
    Stack: 'The layers of a panel, from shell to lining. Its stiffness is that of all its layers together, and its weight too.',
    'Bonded and loose':
      'Two equal layers that are bonded bend as one of twice the thickness: eight times as stiff. Loose ones slide: twice as stiff, and twice as heavy, so they hang over no further than one.',
  },
  worked: {
    cantilever: (B: string, w: string, c: string, O: string): string => `c = (B / w)^⅓ = (${B} / ${w})^⅓ = ${c}; overhang = 2 c = ${O}`,
    standing: (c: string, h: string): string => `h = 1.986 c = 1.986 × ${c} = ${h} (Greenhill 1881)`,
    drape: (long: string, K: string, reach: string, dc: string): string =>
      `as if the hanging ring were cut into strips: each ${long} long, w L³ / B = ${K}, reaches out ${reach}; that ring of shadow over the flat one is ${dc}. Uncut cloth has to fold, and folds stand out further`,
    table: (K: string, f: string, L: string, h: string): string => `w L³ / B = ${K}; the exact curve gives ${f} at that load; ${f} × ${L} = ${h}`,
  },
} as const;
