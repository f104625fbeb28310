// Writes what .ci/count.mjs adds up. Vitest's own JSON report calls a test that is expected to fail "passed";
// a known fault must not swell the number of things that work.
import { writeFileSync } from 'node:fs';

const statusOf = (test) => {
  const { state } = test.result();
  return state === 'passed' && test.options.fails ? 'known' : state;
};

export default class Counted {
  onTestRunEnd(modules) {
    const testResults = modules.map((module) => ({
      name: module.moduleId,
      // A file that was never run through, because its process died, is still 'pending' here: that is a failure.
      status: module.state() === 'passed' || module.state() === 'skipped' ? 'passed' : 'failed',
      assertionResults: [...module.children.allTests()].map((test) => ({ status: statusOf(test) })),
    }));
    writeFileSync(process.env.SLUMPLINE_TEST_REPORT, JSON.stringify({ testResults }));
  }
}
