// What a cord, a wire or boning in the rim does: npm run bench:members [MESH MM]. Bars: 0 crossings; no member adds more than 20 % to a settle's CPU time.
// Three templates, each bare, piped (paper cord of 5 mm), wired (spring wire of 2 mm bent to the mouth and joined to a ring) and boned (plastic boning of 8 mm, straight and
// cut at the corners; or bent to the mouth and joined to a ring);
// middle of the band. A bag that stands takes other steps than one that falls, so what a rod costs is told twice: by the CPU time of the whole, and of one Newton step at the start.
import { newBag, parseBag, previewBag } from '../../src/index.ts';
import { judgeBand } from '../../src/report/index.ts';
import { meetsItself, prepareScene } from '../../src/run/scene.ts';
import { createSystem, forces, newtonDirection } from '../../src/solver/index.ts';

const [mm = '24', only] = process.argv.slice(2);
const edgeLength = Number(mm) / 1000;
const BAGS: readonly (readonly [string, number, readonly string[]])[] = [
  ['boxed-tote', 0, ['front.top', 'back.top']],
  ['bucket', 0, ['body.top']],
  ['gathered-tote', 0, ['band.top']],
];
const RIMS = {
  bare: null,
  piped: { kind: 'paper cord', size: '5 mm', ends: 'ring' },
  wired: { kind: 'spring wire', size: '2 mm', ends: 'ring', formed: 'as sewn' },
  boned: { kind: 'plastic boning', size: '8 mm' },
  'boned, bent to the mouth': { kind: 'plastic boning', size: '8 mm', ends: 'ring', formed: 'as sewn' },
} as const;
const percent = (v: number | null): string => (v === null ? '-' : (100 * v).toFixed(1));

console.log(`Mesh ${mm} mm, middle of the band\n`);
console.log('| bag | rim | word | height kept, % | mouth gap, % | lean, deg | margin | nudge leaves, mm | crossings | CPU s | steps | a step, CPU ms | CG |');
console.log(`|${'---|'.repeat(13)}`);
for (const [template, nth, along] of BAGS) {
  if (only && only !== template) continue;
  let bare = 0;
  for (const [rim, member] of Object.entries(RIMS)) {
    const source = JSON.parse(newBag(template)),
      bag = parseBag({ ...source, ...(member ? { members: { rim: { along, ...member } } } : {}) }),
      begun = process.cpuUsage(),
      result = previewBag(bag, { option: bag.options[nth]!.name, edgeLength, bands: ['mid'], askAgain: false, corners: false }),
      { user, system } = process.cpuUsage(begun),
      seconds = (user + system) / 1e6,
      run = result.runs[0]!,
      { heightKept, mouthGap, wallLean } = run.measures,
      judged = judgeBand(run),
      step = oneStep(bag, bag.options[nth]!.name);
    if (!member) bare = step.ms;
    const more = member ? ` (${step.ms >= bare ? '+' : ''}${(100 * (step.ms / bare - 1)).toFixed(0)} %)` : '';
    console.log(
      `| ${[
        template,
        rim,
        judged.word,
        percent(heightKept),
        percent(mouthGap),
        wallLean === null ? '-' : ((wallLean * 180) / Math.PI).toFixed(1),
        judged.margin.toFixed(2),
        run.nudge.tested ? (1000 * run.nudge.worstShift).toFixed(1) : 'not nudged',
        run.contact.crossings,
        seconds.toFixed(1),
        run.iterations,
        `${step.ms.toFixed(1)}${more}`,
        step.cg,
      ].join(' | ')} |`,
    );
  }
}

/** CPU time of one Newton step at the start, ms, least of eight, and its iterations of CG. */
function oneStep(bag: ReturnType<typeof parseBag>, option: string): { ms: number; cg: number } {
  const scene = prepareScene(bag, { option, edgeLength }),
    sys = createSystem(scene.model, { selfContact: meetsItself(scene) }),
    [g, d] = [new Float64Array(scene.start.length), new Float64Array(scene.start.length)];
  let [ms, cg] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i < 8; i++) {
    const begun = process.cpuUsage();
    forces(sys, scene.start, g, 'arc-corrected');
    cg = newtonDirection(sys, g, d, { massFactor: 1e4, predicted: null, tolerance: 1e-4, positive: false }).cgIterations;
    const { user, system } = process.cpuUsage(begun);
    ms = Math.min(ms, (user + system) / 1000);
  }
  return { ms, cg };
}
