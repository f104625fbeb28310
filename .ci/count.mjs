// Adds up what ran. Apart from the runner, so that a test can feed it a crash.

/**
 * Passed and failed tests of one vitest run, from the report of .ci/reporter.mjs (text, or null when none was written) and exit code.
 * Everything that could hide a failure is one: no report, no tests, a file that did not load, an error outside any test.
 */
export function countVitest(text, exitCode) {
  const remarks = [];
  let report = null;
  try {
    report = text === null ? null : JSON.parse(text);
  } catch {
    // cut short while writing
  }
  if (report === null) return { passed: 0, failed: 1, remarks: [`FAILED: vitest ended without a report (exit code ${exitCode})`] };
  let passed = 0;
  let failed = 0;
  let skipped = 0;
  let known = 0;
  for (const file of report.testResults ?? []) {
    const own = file.assertionResults ?? [];
    let ownFailed = 0;
    for (const test of own) {
      if (test.status === 'passed') passed++;
      else if (test.status === 'failed') ownFailed++;
      else if (test.status === 'known') known++;
      else skipped++;
    }
    if (file.status === 'failed' && ownFailed === 0) {
      // A file that threw while loading, or in a hook, has no failed test of its own.
      ownFailed = 1;
      remarks.push(`FAILED: ${file.name} did not run through`);
    }
    failed += ownFailed;
  }
  if (passed + failed === 0) {
    failed = 1;
    remarks.push('FAILED: no tests ran');
  }
  if (exitCode !== 0 && failed === 0) {
    failed = 1;
    remarks.push(`FAILED: vitest ended with exit code ${exitCode} although every test passed`);
  }
  if (known > 0) remarks.push(`${known} known to fail, counted neither way`);
  if (skipped > 0) remarks.push(`${skipped} skipped`);
  return { passed, failed, remarks };
}

/** The closing line over several counts, and whether all is well. */
export function verdictLine(counts) {
  const passed = counts.reduce((sum, count) => sum + count.passed, 0);
  const failed = counts.reduce((sum, count) => sum + count.failed, 0);
  return { line: `${passed} passed, ${failed} failed`, ok: failed === 0 && passed > 0 };
}
