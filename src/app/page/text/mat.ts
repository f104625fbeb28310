/** Words on and round the mat: stances, buttons, what a bag waits for, figures shown on the bags. */
export const mat = {
  mat: {
    label: 'The options side by side on the mat',
    standing: 'Standing empty',
    loaded: 'Standing loaded',
    standingHow: 'on a table, pushed from four sides',
    around: ({ on, tilt, forms }: { readonly on: 'table' | 'nothing'; readonly tilt: number; readonly forms: readonly unknown[] }): string =>
      [
        on === 'table' ? (tilt > 0 ? 'on a tilted table' : 'on a table') : tilt > 0 ? 'tilted' : '',
        forms.length === 0 ? '' : on === 'table' ? 'with forms' : 'over forms only',
        'pushed from four sides',
      ]
        .filter((w) => w !== '')
        .join(', '),
    held: 'Held',
    heldHow: 'by its clips',
    hung: 'Hanging',
    hungHow: {
      hook: 'by its straps from a hook',
      bar: 'by its straps from a bar',
      shoulder: 'by its straps from a shoulder',
      hands: 'by its straps from two hands',
    },
    tape: 'Tape, rising from the table',
    picture: (n: number): string =>
      `Picture of ${n === 1 ? 'one option' : `${n} options`} on one mat, to one scale. Arrow keys turn the bags and tilt the view; with Shift they move it. Plus comes closer, minus goes back, 0 shows the bags straight on. N and Shift+N light up the panels one by one.`,
    flat: 'This browser cannot draw 3D pictures, so the bags are shown as drawings. The figures are the same.',
    turnLeft: 'Turn left',
    turnRight: 'Turn right',
    above: 'Look from higher',
    below: 'Look from lower',
    closer: 'Closer',
    back: 'Further away',
    straight: 'Straight on',
    watch: 'Watch it fall',
    take: 'Pick it up',
    takeHint: 'Let the option you are editing fall, and pull it about',
    takeFailed: 'The bag could not be picked up. Try again.',
    settle: 'Settle',
    inside: 'Look inside',
    insideHint: 'Leave the fronts out of the picture, to see what is in the bags',
    stop: 'Stop',
    edit: (letter: string): string => `Edit option ${letter}`,
    drafted: (stage: string): string => `as drafted · ${stage}`,
    legend: 'Bend radius',
    legendFlat: 'flat',
    legendTight: (length: string): string => `${length} or tighter`,
    /** The words of the maps themselves are loaded with them: heat/words.ts. */
    mapComing: 'Working it out …',
    mapFailed: 'This map did not load. Choose it again.',
    gone: 'The picture was lost and is being drawn again.',
  },
  stage: {
    waiting: 'waiting',
    drafting: 'drafting',
    falling: 'falling',
    settling: 'settling',
    stopped: 'stopped',
    seeBelow: 'not settled: the reason stands below',
    stale: 'from before the change',
    middleOnly: 'typical bolt only: the soft and stiff bolts were stopped. Settle again',
    coarseOnly: 'settled before, less finely: the finer one was stopped. Settle again',
    coarse: 'settled before, less finely; the finer one follows',
    partial: 'typical bolt; the soft and stiff bolts follow',
    checking: {
      again: 'typical bolt, near its limit: being checked on a second mesh',
      corners: 'typical bolt: being checked with its corners pressed',
    },
    early: 'Typical bolt. The word is certain; its figures follow when the heap has come to rest.',
    failed: 'The solver stopped. Your bag is kept. Settle again.',
    /** The core's words for its stages. */
    detail: { settling: 'settling', sinking: 'sinking', nudged: 'pushed from a side', 'filled the other way': 'walls pushed in' } as Readonly<
      Record<string, string>
    >,
    band: { low: 'soft bolt', mid: 'typical bolt', high: 'stiff bolt' },
    progress: (stage: string, time: string): string => `${stage} · ${time}`,
  },
  measured: {
    show: (figure: string): string => `${figure}: show where it was measured`,
    height: (kept: string, drafted: string): string => `rim ${kept} high on average, ${drafted} as drafted`,
    drop: (drop: string, panel: string): string => `${panel ? `rim of ${panel}` : 'rim'}: ${drop} below its drafted height`,
    lean: (angle: string, panel: string): string => `${panel} leans ${angle}`,
    arrows: (length: string, force: string): string => `an arrow of ${length}: ${force}`,
    said: (figure: string): string => `${figure}: shown on the bags.`,
    hidden: (figure: string): string => `${figure}: no longer shown.`,
  },
} as const;
