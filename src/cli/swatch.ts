import type { Command } from 'commander';
import type { Core } from './core.ts';
import { nearest } from './faults.ts';
import { EXIT, Failure, type Io, readText } from './io.ts';
import { swatchPhoto, swatchReading } from './swatch-reading.ts';
import { type Ran, swatchRecord, swatchText } from './swatch-text.ts';

interface SwatchFlags {
  readonly rigidity?: string;
  readonly arealMass?: string;
  readonly length?: string;
  readonly inPlane?: string;
  readonly mesh?: string;
  readonly meshKind?: string;
  readonly cut?: string;
  readonly pressed?: string;
  readonly seamDown?: boolean;
  readonly json?: boolean;
  readonly out?: string;
}

const KINDS = ['structured', 'equilateral', 'irregular'] as const;
/** Stiffness in the plane where bare figures leave it out, N/m: a middling cotton; a bending test hardly feels it. */
const IN_PLANE = 5e3;

/** Largest rigidity that is read without its unit, N*m: 5 mm of plywood has less than 100, 3 mm of board about 1 (from memory). */
const MOST_BARE = 10;

/** Adds `swatch` to the program. `done` is told the exit code. */
export function registerSwatch(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('swatch')
    .argument(
      '<test>',
      `one of ${core.TEST_NAMES.join(', ')}; or reading, to make a material of your own from a file of readings; or photo, from places marked in pictures of a strip`,
    )
    .argument('[material]', 'a built-in material, or a file (*.json) of your own')
    .description('Put a material through a standard test, with theory beside the reading; or turn readings into a material.')
    .option('--rigidity <B>', 'bending rigidity per width, N.m or with its unit ("55 uN.m"), the same in every direction')
    .option('--areal-mass <m>', 'mass per area with its unit, such as "340 g/m2" or "10 oz/yd2"')
    .option('--length <mm>', 'length of the strip (drape: diameter of the disc) in mm')
    .option('--in-plane <C>', 'stiffness in the plane, N/m')
    .option('--mesh <mm>', 'edge length of the mesh in mm')
    .option('--mesh-kind <kind>', `${KINDS.join(', ')} (default: irregular; drape has its own)`)
    .option('--cut <deg>', 'angle of the strip from the warp, degrees')
    .option('--pressed <how>', `corner: how its seam is pressed, ${core.PRESSED.join(', ')} (default: creased)`)
    .option('--seam-down', 'corner: clamped above its seam instead of below')
    .option('--json', 'print the result as JSON (SI), and nothing else on stdout')
    .option('--out <file>', 'reading and photo: write the material into this file')
    .action(async (test: string, material: string | undefined, flags: SwatchFlags) => done(await swatch(io, core, test, material, flags)));
}

/** `swatch TEST [MATERIAL]`. Exit 0 with a reading, 2 for bad input (all of it listed), 3 when the strip did not come to rest. */
async function swatch(io: Io, core: Core, test: string, material: string | undefined, flags: SwatchFlags): Promise<number> {
  if (test === 'reading' || test === 'photo') {
    const idle = Object.keys(flags).filter((name) => name !== 'out' && name !== 'json');
    if (idle.length > 0)
      throw failure(idle.map((name) => `--${name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)} is for a test; ${test} takes its figures from the file`));
    return (test === 'reading' ? swatchReading : swatchPhoto)(io, core, material, flags.out, flags.json ?? false);
  }
  const faults: string[] = [];
  const size = (name: string, text: string | undefined, kind: Parameters<Core['readQuantity']>[1], bare: string): number | null => {
    if (text === undefined) return null;
    const plain = /^\s*-?\d+(\.\d+)?(e[-+]?\d+)?\s*$/i.test(text);
    // "1e-4" has an exponent, which quantities do not: it is read as a number and scaled by its unit's own size.
    const read = plain && bare !== '' ? core.readQuantity(`1 ${bare}`, kind) : core.readQuantity(text, kind);
    const value = read.ok ? (plain && bare !== '' ? Number(text) * read.value : read.value) : null;
    if (value === null) faults.push(`--${name} "${text}": expected ${bare === '' ? '' : `a number of ${bare}, or `}${read.ok ? 'a number' : read.expected}`);
    else if (!(value > 0) && name !== 'cut') faults.push(`--${name} "${text}": expected more than zero`);
    else if (Number.isFinite(value)) return value;
    return null;
  };
  const name = core.TEST_NAMES.find((t) => t === test);
  if (name === undefined) {
    const near = nearest(test, core.TEST_NAMES);
    faults.push(`unknown test "${test}"${near === null ? `: one of ${core.TEST_NAMES.join(', ')}, reading, photo` : `; did you mean "${near}"?`}`);
  }
  const rigidity = size('rigidity', flags.rigidity, 'bending', 'N.m');
  const arealMass = size('areal-mass', flags.arealMass, 'arealMass', '');
  // Bare, newton metres: a thousandth of them is a firm leather, and a figure past ten is one of the smaller unit with its unit left out.
  if (rigidity !== null && rigidity > MOST_BARE && /^\s*[\d.e+-]+\s*$/i.test(flags.rigidity!))
    faults.push(
      `--rigidity "${flags.rigidity}" is ${rigidity} N.m, stiffer than any cloth or board: expected its unit as well, such as "${flags.rigidity!.trim()} uN.m"`,
    );
  const inPlane = size('in-plane', flags.inPlane, 'inPlane', 'N/m');
  const length = size('length', flags.length, 'length', 'mm');
  const mesh = size('mesh', flags.mesh, 'length', 'mm');
  const cut = size('cut', flags.cut, 'angle', 'deg') ?? (name === 'bias' ? Math.PI / 4 : 0);
  const kind = KINDS.find((k) => k === (flags.meshKind ?? 'irregular'));
  if (kind === undefined) faults.push(`--mesh-kind "${flags.meshKind}": expected one of ${KINDS.join(', ')}`);
  if (arealMass !== null && !(arealMass >= 0.01 && arealMass <= 10))
    faults.push(`--areal-mass "${flags.arealMass}" is ${Math.round(arealMass * 1000)} g/m2: expected 10 to 10000 g/m2; is the unit meant to be g/m2?`);
  if (name === 'drape' && flags.meshKind !== undefined) faults.push(`--mesh-kind "${flags.meshKind}": a disc is meshed in one way only; leave it out`);
  const pressed = core.PRESSED.find((p) => p === flags.pressed);
  if (flags.pressed !== undefined && !pressed) faults.push(`--pressed "${flags.pressed}": expected one of ${core.PRESSED.join(', ')}`);
  if (name !== 'corner' && (flags.pressed !== undefined || flags.seamDown)) faults.push('--pressed and --seam-down are for corner');
  if (flags.out !== undefined) faults.push('--out is for reading and photo; a test prints its result');
  const cloth = (await clothOf(io, core, material, faults))?.('mid') ?? null;
  if (cloth === null && material === undefined) {
    if (flags.rigidity === undefined) faults.push('no material: name one, or give --rigidity and --areal-mass');
    else if (flags.arealMass === undefined) faults.push('--rigidity without --areal-mass: both are needed where no material is named');
  }
  if (faults.length > 0 || name === undefined || kind === undefined) throw failure(faults);
  const bare = core.isotropic(arealMass ?? cloth?.sheet.arealMass ?? 0, rigidity ?? 1, inPlane ?? IN_PLANE);
  const sheet = {
    arealMass: bare.arealMass,
    bending: rigidity === null && cloth ? cloth.sheet.bending : bare.bending,
    inPlane: inPlane === null && cloth ? cloth.sheet.inPlane : bare.inPlane,
    ...(cloth?.sheet.thickness === undefined ? {} : { thickness: cloth.sheet.thickness }),
  };
  const tested = length ?? core.ownLength(name, sheet, cut);
  const setup: Ran = {
    sheet,
    length: tested,
    mesh: mesh ?? core.ownMesh(name, tested),
    kind,
    cut,
    shown: name === 'drape' ? 'graded' : kind,
    pressed,
    seamDown: flags.seamDown,
  };
  faults.push(...core.unfitSetup(name, setup, length === null));
  if (faults.length > 0) throw failure(faults);
  // A length given to `standing` asks for that very strip as well, which the test's own choice does not.
  const result = core.swatchTest(name, { ...setup, length: length ?? (name === 'drape' ? tested : undefined) });
  const title = cloth?.name ?? 'bare figures';
  io.out(flags.json === true ? core.stableJson(swatchRecord(core, title, setup, result)) : swatchText(core, title, cloth, setup, result));
  return result.status === 'settled' ? EXIT.ok : EXIT.notSettled;
}

const failure = (faults: readonly string[]): Failure => new Failure(`${faults.join('\n')}\n`, EXIT.input);

type ClothAt = (band: 'low' | 'mid' | 'high') => NonNullable<ReturnType<Core['presetCloth']>>;

/** A built-in material by id or name, or that of a file, which is read once, at the ends of its band; null with a fault. */
export async function clothOf(io: Io, core: Core, material: string | undefined, faults: string[]): Promise<ClothAt | null> {
  if (material === undefined) return null;
  if (!/\.json$/i.test(material)) {
    const wanted = material.toLowerCase();
    const found = core.presets().find((m) => m.id.toLowerCase() === wanted || m.name.toLowerCase() === wanted);
    if (found) return (band) => core.presetCloth(found.id, band)!;
    const near = nearest(
      material,
      core.presets().map((m) => m.id),
    );
    faults.push(
      `unknown material "${material}"${near === null ? '; see `slumpline materials` for the list, or name a file ending in .json' : `; did you mean "${near}"?`}`,
    );
    return null;
  }
  try {
    const source: unknown = JSON.parse(await readText(io, material));
    const mid = core.fileCloth(source, 'mid');
    return (band) => (band === 'mid' ? mid : core.fileCloth(source, band));
  } catch (error) {
    if (error instanceof core.BagError) faults.push(...error.faults.map((f) => `${material}: ${f.path}: got ${f.got}; expected ${f.expected}`));
    else if (error instanceof Failure) faults.push(error.message.trim());
    else if (error instanceof SyntaxError) faults.push(`${material}: not a JSON file`);
    else throw error;
    return null;
  }
}
