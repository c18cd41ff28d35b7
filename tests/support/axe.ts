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
  await page.evaluate(source);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: Axe };
    const { violations } = await axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id} ${JSON.stringify(node.target)} ${node.failureSummary}`),
    );
  });
}
