/** What axe finds wrong with a page. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Axe {
  run(options: unknown): Promise<{
    violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[];
  }>;
}

/** Breaches of WCAG 2.2 A and AA, as lines to read. */
export async function axeFindings(page: Page): Promise<readonly string[]> {
  // It stays in the document, for the next look at it.
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(source);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: Axe };
    const { violations } = await axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      // What passes needs no list of the elements it is of.
      resultTypes: ['violations'],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id} ${JSON.stringify(node.target)} ${node.failureSummary}`),
    );
  });
}
