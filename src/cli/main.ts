import { Command, CommanderError } from 'commander';
import { registerChange } from './change.ts';
import { check } from './check.ts';
import { registerChoose } from './choose.ts';
import { registerCompare } from './compare.ts';
import { type Core, core as realCore } from './core.ts';
import { registerCutlist } from './cutlist.ts';
import { nearest } from './faults.ts';
import { registerHang } from './hang.ts';
import { EXIT, Failure, type Io } from './io.ts';
import { JOBS } from './jobs.ts';
import { keys } from './keys.ts';
import { materials } from './materials.ts';
import { registerMerge } from './merge.ts';
import { registerNeed } from './need.ts';
import { type NewFlags, newFile } from './new.ts';
import { registerPattern } from './pattern.ts';
import { type SettleFlags, settle } from './settle.ts';
import { registerShelf } from './shelf.ts';
import { registerSwatch } from './swatch.ts';
import { registerSweep } from './sweep.ts';

/**
 * The command line as a function from arguments to an exit code: 0 done, 2 bad input (all faults on stderr, nothing written),
 * 3 a run did not come to rest, 4 a verdict that --fail-on names, 130 stopped, 1 a fault of the program itself. Never throws. argv: the words after the program's name.
 */
export async function main(argv: readonly string[], io: Io, core: Core = realCore): Promise<number> {
  let code: number = EXIT.ok;
  const program = commands(io, core, (c) => {
    code = c;
  });
  try {
    assertHelp(program, argv);
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.input;
    if (error instanceof Failure) {
      io.err(error.message);
      return error.code;
    }
    if (error instanceof core.Cancelled) {
      io.err('stopped; nothing was written\n');
      return EXIT.interrupted;
    }
    io.err(`slumpline: this is a fault of the program, not of the bag.\n${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    return EXIT.program;
  }
}

/** `help COMMAND` of a command that there is; the parser itself would print the help of all and call that done. */
function assertHelp(program: Command, [first, asked]: readonly string[]): void {
  const names = program.commands.flatMap((c) => [c.name(), ...c.aliases()]);
  if (first !== 'help' || asked === undefined || asked.startsWith('-') || asked === 'help' || names.includes(asked)) return;
  const near = nearest(asked, names);
  throw new Failure(`unknown command "${asked}"${near === null ? '' : `; did you mean "${near}"?`}\nthere are: ${names.join(', ')}\n`, EXIT.input);
}

const FILES = 'bag files (*.bag.json, or a report.html or result.json that holds one), one or several; "-" reads one from standard input';

const gathered = (one: string, before: readonly string[]): readonly string[] => [...before, one];

function commands(io: Io, core: Core, done: (code: number) => void): Command {
  const program = new Command('slumpline')
    .description('Shows before cutting whether a sewn bag holds its shape, softens or slumps.')
    .version(core.VERSION, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand('help [command]', 'print the help of a command')
    .showSuggestionAfterError()
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err })
    .addHelpText(
      'after',
      '\nExit code: 0 done, 2 something in the input is wrong (all of it is listed), 3 a run did not come to rest,\n4 a verdict is what --fail-on names, or worse.\nA file named "-" is read from standard input.',
    );

  program
    .command('check')
    .argument('<files...>', FILES)
    .description('Read bag files (shelf files too) and list everything that is wrong with them, or what is in them.')
    .option('--json', 'print what was found as JSON (SI), and nothing else on stdout')
    .action(async (files: string[], flags: { json?: boolean }) => done(await check(io, core, files, flags.json ?? false)));

  program
    .command('settle')
    .argument('<files...>', FILES)
    .description('Let the bag settle and say whether it holds, softens or slumps, and why.')
    .option('--option <name>', 'which option of the file; "all" sets them side by side (default: the first)')
    .option('--stance <name>', 'which stance of the file; "all" goes through them and says where it gives way first (default: the first)')
    .option('--mesh <mm>', 'edge length of the mesh in mm: smaller is finer and slower (default: about 2000 points)')
    .option('--bands <list>', 'low, mid, high of the material: a soft, a typical and a stiff bolt, or some of them (default: those whose word does not follow)')
    .option('--every-band', 'run all three, also an end whose word follows from the typical bolt (slower, the same words)')
    .option('--words', 'stop each run as soon as its word is certain; figures of what still falls are marked so')
    .option('--every-nudge', 'nudge from all four sides, also where a standing bag is sure to come back (slower, the same word)')
    .option('--no-corners', 'where it stands and does not hold: do not ask what it does with its upright corners pressed to a crease')
    .option('--json', 'print the result as JSON, and nothing else on stdout')
    .option(
      '--out <dir>',
      'also write result.json, picture.svg, panels.svg, mesh.obj and report.html into this folder; of several files, a folder each, table.csv and batch.json',
    )
    .option('--maps', 'with --out: also write its maps as pictures (map-curvature.svg, map-strain.svg, map-gap.svg, map-seams.svg)')
    .option('--shape <list>', 'with --out: the settled bag for other programs, glb (glTF 2.0), stl; obj is always written (mesh.obj)')
    .option('--force', 'with --out: write over files that are there already and are not of an earlier run')
    .option(...JOBS)
    .option('--fail-on <word>', 'exit 4 when any verdict is this word or worse, such as slumps: for checks of your own')
    .option('--timing', 'say on stderr how many seconds each run took')
    .option('--quiet', 'no progress on stderr')
    .action(async (files: string[], flags: SettleFlags) => done(await settle(io, core, files, flags)));

  program
    .command('new')
    .argument('[template]', 'name of a template')
    .description('Print the bag file of a template, to be kept, changed and settled.')
    .option('--set <name=figure>', 'write a parameter of the template anew, such as "W=320 mm"; may be given several times', gathered, [])
    .option('--list', 'list the templates, one name a line')
    .action((name: string | undefined, flags: NewFlags) => done(newFile(io, core, name, flags)));

  program
    .command('keys')
    .argument(
      '[part]',
      'one part of the file, such as panels, seams, stances; "results": what result.json holds (JSON schema), "batch": what settle --json prints for several files, "shelf": a shelf file, "sweep": the table.json of a sweep',
    )
    .description('List the keys of a bag file and what may stand there.')
    .option('--json', 'print the JSON schema, for an editor that completes and checks')
    .action((part: string | undefined, flags: { json?: boolean }) => done(keys(io, core, part, flags.json ?? false)));

  program
    .command('materials')
    .argument('[name]', 'id or name of one material')
    .description('List the built-in materials, or show one with its band, its reasons and its sources.')
    .option('--json', 'print as JSON (SI units)')
    .action((name: string | undefined, flags: { json?: boolean }) => done(materials(io, core, name, flags.json ?? false)));

  registerChange(program, io, core, done);
  registerNeed(program, io, core, done);
  registerChoose(program, io, core, done);
  registerHang(program, io, core, done);
  registerSweep(program, io, core, done);
  registerMerge(program, io, core, done);
  registerPattern(program, io, core, done);
  registerCutlist(program, io, core, done);
  registerShelf(program, io, core, done);
  registerSwatch(program, io, core, done);
  registerCompare(program, io, core, done);
  return program;
}
