/** The built program killed, restarted, in shards by the engines of demos/recipes: a coarse leather tote of about a hundred points. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seeded } from '../../src/numerics/index.ts';
import { lineOf, manifestText } from '../../src/report/index.ts';
import { planRuns, valuesOf } from '../../src/run/index.ts';
import { madeRun } from '../report/runs/made-up.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const outDir = join(root, 'dist/test-sweep');
const program = join(outDir, 'slumpline.js');
const desk = mkdtempSync(join(tmpdir(), 'slumpline-sweep-'));
const recipes = join(root, 'demos/recipes');

const VARY = 'W=260..340/4,H=220|240 mm,stance=*,option=vegetable-tanned leather';
const MORE = '--mesh 80';
const sweep = (out: string, ...more: string[]) => ['sweep', 'tote.bag.json', '--vary', VARY, '--mesh', '80', '--out', out, '--quiet', ...more];
const start = (...argv: string[]) => spawnSync(process.execPath, [program, ...argv], { cwd: desk, encoding: 'utf8' });
const env = (out: string, more: Record<string, string> = {}) => ({
  ...process.env,
  BAG: 'tote.bag.json',
  VARY,
  OUT: out,
  SHARDS: '3',
  MORE,
  SLUMPLINE: `${process.execPath} ${program}`,
  ...more,
});
const tables = (out: string) =>
  readdirSync(join(desk, out))
    .filter((name) => /\.(svg|csv)$|^table/.test(name))
    .sort()
    .map((name) => [name, readFileSync(join(desk, out, name), 'utf8')]);
const lines = (out: string): number =>
  existsSync(join(desk, out))
    ? readdirSync(join(desk, out))
        .filter((name) => name.endsWith('.jsonl'))
        .reduce((n, name) => n + readFileSync(join(desk, out, name), 'utf8').split('\n').length - 1, 0)
    : 0;
const has = (tool: string): boolean => spawnSync(tool, ['--version']).status === 0;

beforeAll(async () => {
  const mark = process.env.VITEST;
  delete process.env.VITEST;
  try {
    await build({ configFile: join(root, 'vite.config.ts'), mode: 'cli', logLevel: 'error', build: { outDir } });
  } finally {
    process.env.VITEST = mark;
  }
  const file = JSON.parse(readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8'));
  file.stances = { standing: { friction: 0.4 }, 'with 1 kg': { load: '1 kg' } };
  writeFileSync(join(desk, 'tote.bag.json'), JSON.stringify(file));
  const done = start(...sweep('whole', '--jobs', '1'));
  if (done.status !== 0) throw new Error(done.stderr);
}, 300_000);
afterAll(() => {
  rmSync(outDir, { recursive: true, force: true });
  rmSync(desk, { recursive: true, force: true });
});

/** Starts it and kills it once some more runs are written; resolves to how it ended. */
function killed(argv: readonly string[], out: string, after: number): Promise<string | null> {
  const wanted = lines(out) + after,
    child = spawn(process.execPath, [program, ...argv], { cwd: desk, stdio: 'ignore' });
  const look = setInterval(() => {
    if (lines(out) >= wanted) child.kill('SIGKILL');
  }, 20);
  return new Promise((ended) =>
    child.on('exit', (_, signal) => {
      clearInterval(look);
      ended(signal);
    }),
  );
}

describe('a sweep of 16 runs', () => {
  it('killed 5 times by SIGKILL after 1 or 2 more runs, with 2 threads, and begun again each time: the same tables to the byte as one run with one thread', async () => {
    const chance = seeded(31);
    for (let i = 0; i < 5; i++) {
      const before = lines('killed');
      expect(await killed(sweep('killed', '--jobs', '2'), 'killed', 1 + Math.floor(2 * chance()))).toBe('SIGKILL');
      expect(lines('killed')).toBeGreaterThan(before);
    }
    // As a crash of the machine may leave it.
    const [name] = readdirSync(join(desk, 'killed')).filter((n) => n.endsWith('.jsonl'));
    writeFileSync(join(desk, 'killed', name!), `${readFileSync(join(desk, 'killed', name!), 'utf8')}{"run":15,"plan":"8`);
    expect(lines('killed')).toBeLessThan(16);
    expect(start(...sweep('killed', '--jobs', '2'))).toMatchObject({ status: 0, stderr: '' });
    expect(tables('killed')).toEqual(tables('whole'));
    expect(tables('whole').length).toBeGreaterThan(5);
  });

  it('Ctrl-C ends it with 130 within seconds and leaves a folder that goes on', async () => {
    const child = spawn(process.execPath, [program, ...sweep('stopped', '--jobs', '2')], { cwd: desk, stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    child.stderr.on('data', (text: Buffer) => {
      said += String(text);
    });
    // Once: a second Ctrl-C ends the program at once, as everywhere.
    const look = setInterval(() => {
      if (lines('stopped') < 2) return;
      clearInterval(look);
      child.kill('SIGINT');
    }, 20);
    const code = await new Promise((ended) => child.on('exit', ended));
    expect(code).toBe(130);
    expect(said).toMatch(/^stopped; \d+ of 16 runs are kept in stopped, and the same command goes on\n$/);
    expect(start(...sweep('stopped', '--jobs', '2')).status).toBe(0);
    expect(tables('stopped')).toEqual(tables('whole'));
  });

  it('8 shards, each a program of its own, merged: the same tables to the byte', () => {
    for (let i = 8; i >= 1; i--) expect(start(...sweep(`shard-${i}`, '--jobs', '1', '--shard', `${i}/8`)).status).toBe(0);
    expect(start('merge', ...[1, 2, 3, 4, 5, 6, 7, 8].map((i) => `shard-${i}`), '--out', 'merged', '--quiet').status).toBe(0);
    expect(tables('merged')).toEqual(tables('whole'));
  });
});

describe('recipes', () => {
  it('GNU parallel, 3 shards in one folder, one killed and all run again (by plain child processes where it is not installed)', async () => {
    expect(await killed(sweep('parallel', '--jobs', '1', '--shard', '2/3'), 'parallel', 2)).toBe('SIGKILL');
    expect(lines('parallel')).toBeLessThan(8);
    if (has('parallel')) {
      const done = spawnSync(join(recipes, 'shards-with-parallel.sh'), { cwd: desk, env: env('parallel'), encoding: 'utf8' });
      expect(done.status, done.stderr).toBe(0);
      expect(readFileSync(join(desk, 'parallel.joblog'), 'utf8').trim().split('\n')).toHaveLength(4);
    } else {
      console.log('parallel is not installed: its recipe was checked by bash -n alone, and its shards were run as plain child processes');
      expect(spawnSync('bash', ['-n', join(recipes, 'shards-with-parallel.sh')]).status).toBe(0);
      const shards = [1, 2, 3].map((i) =>
        spawn(process.execPath, [program, ...sweep('parallel', '--jobs', '1', '--shard', `${i}/3`)], { cwd: desk, stdio: 'ignore' }),
      );
      expect(await Promise.all(shards.map((s) => new Promise((ended) => s.on('exit', ended))))).toEqual([0, 0, 0]);
      expect(start('merge', 'parallel', '--quiet').status).toBe(0);
    }
    expect(tables('parallel')).toEqual(tables('whole'));
  });

  it('make, 3 shards (by its text alone where it is not installed)', () => {
    const file = join(recipes, 'shards.mk');
    if (!has('make')) {
      console.log('make is not installed: shards.mk was read, not run');
      expect(readFileSync(file, 'utf8')).toMatch(/--shard \$\*\/\$\(SHARDS\)/);
      return;
    }
    const done = spawnSync('make', ['-f', file, '-j', '2'], { cwd: desk, env: env('made'), encoding: 'utf8' });
    expect(done.status, done.stderr).toBe(0);
    expect(tables('made')).toEqual(tables('whole'));
    expect(spawnSync('make', ['-q', '-f', file], { cwd: desk, env: env('made') }).status, 'nothing is left to do').toBe(0);
  });

  it("Slurm's and Kubernetes' commands settle the shard that their variables name (no Slurm and no cluster is started), and the third shard completes them", () => {
    const slurm = spawnSync(join(recipes, 'slurm-array.sh'), {
      cwd: desk,
      env: env('array', { SHARDS: '', SLURM_ARRAY_TASK_ID: '2', SLURM_ARRAY_TASK_MAX: '3', SLURM_CPUS_PER_TASK: '1' }),
      encoding: 'utf8',
    });
    expect(slurm.status, slurm.stderr).toBe(0);
    expect(readdirSync(join(desk, 'array'))).toContain('runs-2-of-3.jsonl');
    // Task 2 alone, begun again: of how many shards it is one cannot be read off its number.
    const alone = { SHARDS: '', SLURM_ARRAY_TASK_ID: '2', SLURM_ARRAY_TASK_MAX: '2', SLURM_ARRAY_TASK_COUNT: '1' };
    const refused = spawnSync(join(recipes, 'slurm-array.sh'), { cwd: desk, env: env('array', alone), encoding: 'utf8' });
    expect([refused.status, refused.stderr]).toEqual([2, expect.stringContaining('SHARDS=8 for --array=1-8')]);
    expect(readdirSync(join(desk, 'array'))).not.toContain('runs-2-of-2.jsonl');
    const job = JSON.parse(readFileSync(join(recipes, 'kubernetes-job.json'), 'utf8')),
      [container] = job.spec.template.spec.containers;
    const bin = join(desk, 'bin');
    mkdirSync(bin, { recursive: true });
    writeFileSync(join(bin, 'slumpline'), `#!/bin/sh\nexec "${process.execPath}" "${program}" "$@"\n`, { mode: 0o755 });
    for (const index of ['0', '2']) {
      const [command, ...argv] = [...container.command, ...container.args.map((a: string) => a.replaceAll('/8', '/3'))] as [string, ...string[]];
      const done = spawnSync(command, argv, {
        cwd: desk,
        env: { ...env('array', { JOB_COMPLETION_INDEX: index }), PATH: `${bin}:${process.env.PATH}` },
        encoding: 'utf8',
      });
      expect(done.status, done.stderr).toBe(0);
    }
    expect(start('merge', 'array', '--quiet').status).toBe(0);
    expect(tables('array')).toEqual(tables('whole'));
  });

  it('the Job is an indexed one of batch/v1 whose shards are its completions; every variable that its command uses is set', () => {
    const job = JSON.parse(readFileSync(join(recipes, 'kubernetes-job.json'), 'utf8')),
      { spec } = job,
      [container] = spec.template.spec.containers;
    expect([job.apiVersion, job.kind, spec.completionMode]).toEqual(['batch/v1', 'Job', 'Indexed']);
    expect(spec.parallelism).toBeLessThanOrEqual(spec.completions);
    expect(['OnFailure', 'Never']).toContain(spec.template.spec.restartPolicy);
    expect(container.args[0]).toContain(`--shard $((JOB_COMPLETION_INDEX + 1))/${spec.completions} `);
    const set = [...container.env.map((e: { name: string }) => e.name), 'JOB_COMPLETION_INDEX'];
    for (const [, name] of container.args[0].matchAll(/\$\(*"?([A-Z_]+)/g)) expect(set).toContain(name);
    for (const mount of container.volumeMounts) expect(spec.template.spec.volumes.map((v: { name: string }) => v.name)).toContain(mount.name);
  });

  it('the Job has the fields of batch/v1 and no others: the types made from the API description of Kubernetes 1.30 (kubernetes-types) take it, and refuse it with one misspelt', () => {
    const job = readFileSync(join(recipes, 'kubernetes-job.json'), 'utf8');
    const faultsOf = (json: string): string => {
      const file = join(outDir, 'job.ts');
      writeFileSync(file, `import type { Job } from 'kubernetes-types/batch/v1';\nexport const job: Job = ${json};\n`);
      const flags = ['--ignoreConfig', '--noEmit', '--strict', '--skipLibCheck', '--module', 'esnext', '--moduleResolution', 'bundler'];
      return spawnSync(process.execPath, [join(root, 'node_modules/typescript/bin/tsc'), ...flags, file], { cwd: outDir, encoding: 'utf8' }).stdout;
    };
    expect(faultsOf(job)).toBe('');
    expect(faultsOf(job.replace('"completionMode"', '"completionMod"'))).toContain('completionMod');
  });
});

describe('a plan of 10 000 runs', () => {
  it('is planned and merged in under 10 s of a core and 300 MB each', () => {
    const vary = 'W=260..340,H=200..240,material.veg20.band=low..high,friction=0.2..0.6,stance=*',
      text = readFileSync(join(desk, 'tote.bag.json'), 'utf8'),
      plan = planRuns(text, { vary, samples: 5000 }),
      values = valuesOf(plan);
    expect(plan.runs).toBe(10_000);
    const words = ['holds', 'softens', 'near its limit', 'slumps'] as const;
    mkdirSync(join(desk, 'big'));
    writeFileSync(join(desk, 'big/manifest.json'), manifestText(plan));
    for (let k = 0; k < 4; k++) {
      const part: string[] = [];
      for (let i = k; i < plan.runs; i += 4)
        part.push(lineOf(madeRun(plan, i, values(i), { word: words[i % 4], heightKept: 0.5 + (i % 97) / 200, stance: String(values(i).stance) })));
      writeFileSync(join(desk, `big/runs-${k + 1}-of-4.jsonl`), part.join(''));
    }
    const measured = (...argv: string[]) => {
      const // The most memory this program had; resourceUsage() would tell that of the test that started it, where there is no /proc.
        tell = `const most = () => { try { return Number(/VmHWM:\\s*(\\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))[1]) / 1e3; } catch { return process.resourceUsage().maxRSS / 1e3; } };
          process.on('exit', () => { const u = process.cpuUsage(); console.error(JSON.stringify({ s: (u.user + u.system) / 1e6, mb: most() })); });`,
        code = `import { readFileSync } from 'node:fs'; ${tell} process.argv = [process.argv[0], 'slumpline', ...${JSON.stringify(argv)}]; await import(${JSON.stringify(program)});`,
        done = spawnSync(process.execPath, ['--input-type=module', '-e', code], { cwd: desk, encoding: 'utf8' });
      expect(done.status, done.stderr).toBe(0);
      return JSON.parse(done.stderr.trim().split('\n').at(-1)!) as { s: number; mb: number };
    };
    const made = [
      measured('sweep', 'tote.bag.json', '--vary', vary, '--samples', '5000', '--plan'),
      measured('merge', 'big', '--out', 'big-tables', '--quiet'),
    ];
    console.log(`planning and merging 10 000 runs: ${made.map((m) => `${m.s.toFixed(1)} CPU s, ${m.mb.toFixed(0)} MB`).join('; ')}`);
    expect(made[0]!.s + made[1]!.s).toBeLessThan(10);
    for (const { mb } of made) expect(mb).toBeLessThan(300);
    expect(readFileSync(join(desk, 'big-tables/table.csv'), 'utf8').split('\r\n')).toHaveLength(10_002);
  });
});
