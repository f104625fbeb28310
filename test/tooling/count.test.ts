import { describe, expect, it } from 'vitest';
import { countVitest, verdictLine } from '../../.ci/count.mjs';

const file = (status: string, ...tests: string[]) => ({ name: 'x.test.ts', status, assertionResults: tests.map((status) => ({ status })) });
const report = (...testResults: object[]): string => JSON.stringify({ testResults });

describe('the closing line of npm test', () => {
  it('adds 2 passed of one file and 1 passed 1 failed of another to 3 and 1', () => {
    const { passed, failed } = countVitest(report(file('passed', 'passed', 'passed'), file('failed', 'passed', 'failed')), 1);
    expect([passed, failed]).toEqual([3, 1]);
  });

  it('counts as 1 failed: no report, half a report, 0 tests', () => {
    for (const text of [null, '{"testResults": [', report(), report(file('passed'))]) {
      const { passed, failed, remarks } = countVitest(text, 0);
      expect([text, passed, failed]).toEqual([text, 0, 1]);
      expect(remarks).toHaveLength(1);
    }
  });

  it('counts as 1 failed: a file that threw while loading, beside 1 that passed', () => {
    expect(countVitest(report(file('failed'), file('passed', 'passed')), 1)).toMatchObject({ passed: 1, failed: 1 });
  });

  it('counts as 1 failed: exit code 1, or a kill, although 1 of 1 tests passed', () => {
    for (const code of [1, null]) expect(countVitest(report(file('passed', 'passed')), code)).toMatchObject({ passed: 1, failed: 1 });
  });

  it('does not count 1 skipped test as passed, and says so', () => {
    expect(countVitest(report(file('passed', 'passed', 'skipped')), 0)).toEqual({ passed: 1, failed: 0, remarks: ['1 skipped'] });
  });

  it('does not count 1 test that is known to fail as passed, and says so', () => {
    expect(countVitest(report(file('passed', 'passed', 'known')), 0)).toEqual({ passed: 1, failed: 0, remarks: ['1 known to fail, counted neither way'] });
  });

  it('closes with "5 passed, 0 failed" and is well only with 0 failed and at least 1 passed', () => {
    expect(
      verdictLine([
        { passed: 4, failed: 0 },
        { passed: 1, failed: 0 },
      ]),
    ).toEqual({ line: '5 passed, 0 failed', ok: true });
    expect(verdictLine([{ passed: 4, failed: 1 }])).toEqual({ line: '4 passed, 1 failed', ok: false });
    expect(verdictLine([])).toEqual({ line: '0 passed, 0 failed', ok: false });
  });
});
