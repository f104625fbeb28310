// What a word owes to soft contact where it is left soft (hung, over forms, round rigid things, cloth on cloth): npm run bench:soft-contact (about four minutes). Every contact stiffness but that of
// rigid things against the cloth, which goes with their weight, x 1 and x 10. Bar: no judged figure moves by more than 2 % of the room from as drafted to its limit.
import { readFileSync } from 'node:fs';
import { parseBag, type SceneOptions } from '../../src/index.ts';
import { judgeBand } from '../../src/report/index.ts';
import { gateMargins } from '../../src/report/thresholds.ts';
import { runBand } from '../../src/run/band-run.ts';
import { prepareScene, type Scene } from '../../src/run/scene.ts';
import { toEnd } from '../../src/solver/index.ts';
import { drop } from '../../src/solver/rigid.ts';
import { GRAVITY } from '../../src/units/index.ts';

const CASES: readonly (readonly [string, string, SceneOptions])[] = [
  ['market tote, base board, on a hook with 2 kg', 'market-tote', { option: 'canvas, base board', stance: 'hung with 2 kg', edgeLength: 0.025 }],
  ['pocket tote, on a hook', 'pocket-tote', { stance: 'hung from a hook', edgeLength: 0.025 }],
  ['canvas over a ball of 100 mm', 'offcuts-over-forms', { option: 'canvas', stance: 'over a ball', edgeLength: 0.015 }],
  ['commuter tote, canvas and board, with things', 'commuter-tote', { option: 'canvas, board, poplin', stance: 'with things in it', edgeLength: 0.025 }],
];

/** The scene with all that stands on something or touches other cloth so many times as stiff: contacts are as stiff as what presses them. */
function stiffer(scene: Scene, times: number): Scene {
  const { mass, pressed } = scene.model;
  return { ...scene, model: { ...scene.model, pressed: mass.map((m, v) => times * Math.max(m * GRAVITY, pressed?.[v] ?? 0)) } };
}

console.log('| case | word x 1 | word x 10 | figure that moves most, of its room | points move by, mm | iterations |\n|---|---|---|---|---|---|');
for (const [name, file, asked] of CASES) {
  const scene = prepareScene(parseBag(readFileSync(`demos/${file}.bag.json`, 'utf8')), { ...asked, drop });
  const settled = (times: number) => toEnd(runBand(stiffer(scene, times), { skipNudge: true, everyNudge: false, told: () => true, now: () => 0, setup: 0 })),
    soft = settled(1),
    hard = settled(10);
  const after = gateMargins(hard.measures);
  const moved = gateMargins(soft.measures)
    .map(({ gate, margin }) => ({ gate, by: Math.abs(margin - (after.find((m) => m.gate === gate)?.margin ?? Number.NaN)) }))
    .reduce((a, b) => (b.by > a.by ? b : a), { gate: 'none judged', by: 0 } as { gate: string; by: number });
  const far = soft.positions.reduce((most, v, i) => Math.max(most, Math.abs(v - hard.positions[i]!)), 0);
  const word = (r: typeof soft): string => `${judgeBand(r).word}${r.status === 'settled' ? '' : ` (${r.status})`}`;
  console.log(
    `| ${name} | ${word(soft)} | ${word(hard)} | ${moved.gate} ${(100 * moved.by).toFixed(2)} % | ${(1000 * far).toFixed(3)} | ${soft.iterations} / ${hard.iterations} |`,
  );
}
