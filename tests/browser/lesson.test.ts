/** A lesson in real pages: a teacher and learners, one beside a call at 390 x 400, one left-handed in German. */
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { axeFindings } from '../support/axe.ts';
import { visit } from '../support/browser.ts';
import { browserSuite } from '../support/browser-suite.ts';
import { BESIDE_A_CALL, IN_GERMAN, knockAt, letIn, on, strip, teach } from '../support/lesson-stage.ts';
import { LOPSIDED, makeBoardOf } from '../support/own-board.ts';

const suite = browserSuite('lesson');
/** Three cords on a ring. */
const FILE = { ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'], piece: { repeats: 2 } };

/** Lets the page's clock stand on, so that no press is taken for the bounce of the one before. */
function turnClock(page: Page): Promise<void> {
  return page.evaluate(() => {
    let turned = 0;
    const real = performance.now.bind(performance);
    performance.now = () => {
      turned += 1000;
      return real() + turned;
    };
  });
}

const said = (page: Page) => page.locator('lb-table-mount .said').first().textContent();

it('[R41] [R42] [R43] [R45] [R46] everybody follows the teacher in their own way', async () => {
  const teacher = await teach(suite.browser, suite.http, FILE);
  const [pim, kai] = await Promise.all([
    knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL),
    knockAt(suite.browser, teacher.link, 'Kai', IN_GERMAN),
  ]);
  // What to have ready is seen before the door opens.
  expect(await pim.page.locator('lb-lesson-ready li').count()).toBe(3);
  await pim.page.getByText('scissors', { exact: false }).waitFor();
  await letIn(teacher, 2);
  await strip(pim.page).getByText('Cut: cord 1', { exact: false }).waitFor();
  await strip(kai.page).getByText('Schneiden: Faden 1', { exact: false }).waitFor();

  // The left hand, before anything hangs.
  await kai.page.getByRole('button', { name: 'Einstellungen' }).click();
  await kai.page.getByLabel('Du arbeitest').selectOption('mirror');
  await kai.page.keyboard.press('Escape');

  // The teacher goes on by one key: both see it.
  await turnClock(teacher.page);
  await on(teacher.page);
  await strip(pim.page).getByText('Cut: cord 2', { exact: false }).waitFor();
  await strip(kai.page).getByText('Schneiden: Faden 2', { exact: false }).waitFor();
  // Two cords more, on to mounting, the ring fixed: the first cord hangs, mirrored, and its strings are called as for all.
  await on(teacher.page, 4);
  await strip(pim.page).getByText('Mount: cord 1', { exact: false }).waitFor();
  await strip(kai.page).getByText('Aufhängen: Faden 1', { exact: false }).waitFor();
  const places = async (page: Page): Promise<readonly number[]> =>
    ((await page.locator('lb-table-mount svg.ring text').allTextContents()) as string[]).map(Number);
  await expect.poll(() => places(pim.page)).toHaveLength(2);
  const own = await places(pim.page);
  await expect.poll(() => places(kai.page)).toEqual([...own].reverse());
  expect(await said(pim.page)).toBe(await said(teacher.page));

  // Her own pace, and back with one tap; there is no sideways scroll, and her buttons are there.
  const { page } = pim;
  await page.getByRole('button', { name: 'My own pace' }).tap();
  await page.locator('lb-table-cut').waitFor();
  await strip(page).getByText('5 steps ahead of you', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'To the teacher' }).tap();
  await page.locator('lb-table-mount').waitFor();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  for (const button of ['.strip .help', '.pads .on', '.pads .back']) {
    const box = await page.locator(`lb-lesson-work ${button}`).boundingBox();
    expect(box === null ? button : box.y + box.height).toBeLessThanOrEqual(400);
  }
  // Done here: her own keychain is past it.
  await page.getByRole('button', { name: 'Done' }).tap();
  await strip(page).getByText('You are done here', { exact: false }).waitFor();
  expect(await axeFindings(page)).toEqual([]);

  // Whoever loads the page anew is where she was, without knocking.
  await page.reload();
  await strip(page).getByText('Mount: cord 1', { exact: false }).waitFor();
  for (const one of [teacher, pim, kai]) expect(one.complaints).toEqual([]);
});

it('[R43] [R50] [R52] [R57] [R58] one large button calls, the roster says who, and one tap answers her alone', async () => {
  const teacher = await teach(suite.browser, suite.http, FILE);
  const [pim, kai] = await Promise.all([
    knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL),
    knockAt(suite.browser, teacher.link, 'Kai', IN_GERMAN),
  ]);
  await letIn(teacher, 2);
  await pim.page.getByRole('button', { name: 'Help', exact: true }).tap();
  await strip(teacher.page).getByText('Needs help: Pim').waitFor();
  const [roster] = await Promise.all([
    teacher.context.waitForEvent('page'),
    teacher.page.getByRole('link', { name: 'Roster' }).click(),
  ]);
  const people = roster.locator('lb-lesson-roster li');
  await expect.poll(() => people.count()).toBe(2);
  expect(await people.first().textContent()).toContain('Pim');
  expect(await people.first().textContent()).toContain('needs help');
  await people.first().getByRole('button', { name: 'Answer' }).click();
  await roster.getByLabel('Say to her alone').fill('The left one over.');
  await roster.getByRole('button', { name: 'Say', exact: true }).click();
  await strip(pim.page).getByText('The left one over.', { exact: false }).waitFor();
  expect(await strip(kai.page).textContent()).not.toContain('The left one over.');
  expect(await kai.page.getByText('Pim').count()).toBe(0);
  await people.first().getByRole('button', { name: 'Answer' }).click();
  await roster.getByText('The left one over.').waitFor();
  await roster.getByRole('button', { name: 'That is right, go on.' }).click();
  await strip(pim.page).getByText('That is right, go on.', { exact: false }).waitFor();
  await teacher.page.getByRole('button', { name: 'Ready?' }).click();
  await pim.page.getByRole('button', { name: 'I am ready' }).tap();
  await strip(teacher.page).getByText('1 ready', { exact: false }).waitFor();
  await pim.page.getByRole('button', { name: 'Help', exact: true }).tap();
  await strip(teacher.page).getByText('Needs help: Pim').waitFor();
  await pim.page.getByRole('button', { name: 'Help', exact: true }).tap();
  await strip(teacher.page).getByText('Nobody calls.').waitFor();
  expect(await axeFindings(roster)).toEqual([]);
  expect(await axeFindings(teacher.page)).toEqual([]);
  for (const one of [teacher, pim, kai]) expect(one.complaints).toEqual([]);
});

it('[R40] [R47] [R60] [R62] [R72] from the board to the end: plan, lock, removing somebody, the link that opens nothing', async () => {
  const teacher = await teach(suite.browser, suite.http, FILE);
  const { page } = teacher;
  const [pim, kai] = await Promise.all([
    knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL),
    knockAt(suite.browser, teacher.link, 'Kai', IN_GERMAN),
  ]);
  await letIn(teacher, 2);
  await page.getByRole('button', { name: 'Plan' }).click();
  await page.getByRole('button', { name: 'Draft it from the board' }).click();
  const notes = page.getByLabel('Note');
  await expect.poll(() => notes.count()).toBeGreaterThan(5);
  expect(await axeFindings(page)).toEqual([]);
  await notes.first().fill('Cut all cords on the mark');
  await notes.first().blur();
  await strip(pim.page).getByText('Cut all cords on the mark').waitFor();
  await page.getByRole('button', { name: 'Close' }).click();

  // A code of the link stands beside it.
  await page.getByRole('button', { name: 'Door' }).click();
  await page.getByRole('img', { name: 'The learners’ link, for a camera' }).waitFor();
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Lock the door' }).click();
  const late = await visit(suite.browser, teacher.link);
  await late.page.getByLabel('What the teacher should call you').fill('Una');
  await late.page.getByRole('button', { name: 'Knock' }).click();
  await late.page.getByText('the door of the lesson is locked', { exact: false }).waitFor();

  // Put out for this lesson.
  const roster = await teacher.context.newPage();
  await roster.goto(`${page.url()}&roster`);
  const line = roster.locator('lb-lesson-roster li', { hasText: 'Kai' });
  await line.getByRole('button', { name: 'Remove' }).click();
  await kai.page.getByText('Du bist nicht in dieser Stunde.').waitFor();

  await page.getByRole('button', { name: 'Finish the lesson …' }).click();
  await page.getByRole('button', { name: 'Finish, forget who was there' }).click();
  await pim.page.getByText('The lesson has ended.').waitFor();
  const kept = await pim.page.evaluate(() =>
    Object.keys(localStorage).filter((key) => key.includes('lesson')),
  );
  expect(kept).toEqual([]);
  // A code seen in a recording opens nothing afterwards.
  await late.page.reload();
  await late.page.goto(teacher.link);
  await late.page.getByLabel('What the teacher should call you').fill('Una');
  await late.page.getByRole('button', { name: 'Knock' }).click();
  await late.page.getByText('there is no such link, or it has ended', { exact: false }).waitFor();

  // What was planned is walked through afterwards by who may look at the board.
  await page.goto(`${suite.http}/board/${teacher.board}/lesson`);
  await page.getByRole('link', { name: 'Walk through the one of', exact: false }).click();
  const stops = page.locator('lb-lesson-walk .strip');
  await stops.getByText('Cut all cords on the mark').waitFor();
  await page.getByRole('button', { name: 'Next stop' }).click();
  await stops.getByText('Mount them').waitFor();
  await page.locator('lb-lesson-walk lb-table-mount').waitFor();
  expect(await axeFindings(page)).toEqual([]);
});

it('[R45] another teacher takes the lead by a tap, from where the lesson stands, and both see who leads', async () => {
  const teacher = await teach(suite.browser, suite.http, FILE);
  const pim = await knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL);
  await letIn(teacher, 1);
  await turnClock(teacher.page);
  await on(teacher.page, 2);
  await strip(pim.page).getByText('Cut: cord 3', { exact: false }).waitFor();
  const made = await teacher.context.request.post(`${suite.http}/api/boards/${teacher.board}/links`, {
    data: { role: 'co-maker' },
  });
  const { secret } = (await made.json()) as { secret: string };
  const helper = await visit(suite.browser, `${suite.http}/board/${teacher.board}#${secret}`);
  await helper.page.locator('lb-board canvas.pattern').waitFor();
  // From the board, by what is shared.
  await helper.page.getByRole('button', { name: 'Share' }).click();
  await helper.page.getByRole('link', { name: 'Give a lesson on this board' }).click();
  await helper.page.getByRole('link', { name: 'Opened', exact: false }).click();
  const take = helper.page.getByRole('button', { name: 'Take the lead from', exact: false });
  await take.waitFor();
  await strip(helper.page).getByText('leads: Cut: cord 3', { exact: false }).waitFor();
  await take.click();
  await teacher.page.getByRole('button', { name: 'Take the lead from', exact: false }).waitFor();
  await strip(teacher.page).getByText('leads: Cut: cord 3', { exact: false }).waitFor();
  await turnClock(helper.page);
  await on(helper.page, 2);
  await strip(pim.page).getByText('Mount: fix the ring', { exact: false }).waitFor();
  await strip(teacher.page).getByText('leads: Mount: fix the ring', { exact: false }).waitFor();
  for (const one of [teacher, helper, pim]) expect(one.complaints).toEqual([]);
});

/** What is drawn over somebody's work, as strings and rows. */
const spotsIn = (page: Page) =>
  page.locator('lb-table-tie g.seen').evaluate((group) => {
    const [x, y, string, row] = group.getAttribute('data-grid')!.split(' ').map(Number) as [
      number,
      number,
      number,
      number,
    ];
    return [...group.querySelectorAll('g.drawn path[stroke="#c2185b"]')].map((path) =>
      [...path.getAttribute('d')!.matchAll(/[ML](\S+) ([^ML]+)/g)].map(
        ([, px, py]) => [(Number(px) - x) / string, (Number(py) - y) / row] as const,
      ),
    );
  });

it('[R54] [R55] [R56] what the teacher draws lies at the same places for all, mirrored for the left hand, and stays where it is kept', async () => {
  const teacher = await teach(suite.browser, suite.http, FILE);
  const [pim, kai] = await Promise.all([
    knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL),
    knockAt(suite.browser, teacher.link, 'Kai', IN_GERMAN),
  ]);
  await letIn(teacher, 2);
  await kai.page.getByRole('button', { name: 'Einstellungen' }).click();
  await kai.page.getByLabel('Du arbeitest').selectOption('mirror');
  await kai.page.keyboard.press('Escape');
  const { page } = teacher;
  await turnClock(page);
  while (!(await page.locator('lb-table-tie svg.tying').isVisible())) await on(page);
  await strip(kai.page).getByText('Reihe 1', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Draw', exact: true }).click();
  const box = (await page.locator('lb-table-tie svg.tying').boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.45, box.y + box.height * 0.3);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.5, box.y + box.height * 0.3);
  await page.mouse.move(box.x + box.width * 0.55, box.y + box.height * 0.4);
  await page.mouse.up();
  await page.getByRole('button', { name: 'Keep here' }).click();
  await expect.poll(() => spotsIn(pim.page)).not.toEqual([]);
  await expect.poll(() => spotsIn(kai.page)).not.toEqual([]);
  const [own, hers, mirrored] = await Promise.all([spotsIn(page), spotsIn(pim.page), spotsIn(kai.page)]);
  const flat = (drawn: typeof own, turn: (string: number) => number): readonly string[] =>
    drawn.flat().map(([string, row]) => `${turn(string).toFixed(2)} ${row.toFixed(2)}`);
  // What has not faded yet lies upon what is kept.
  const set = (lines: readonly string[]): readonly string[] => [...new Set(lines)].sort();
  const same = (string: number): number => string;
  expect(set(flat(hers, same))).toEqual(set(flat(own, same)));
  expect(set(flat(mirrored, (string) => 5 - string))).toEqual(set(flat(own, same)));
  // Kept at its stop: there for whoever comes back, not at another.
  await pim.page.reload();
  await expect.poll(() => spotsIn(pim.page)).not.toEqual([]);
  await pim.page.getByRole('button', { name: 'My own pace' }).tap();
  await pim.page.locator('lb-table-cut').waitFor();
  // Called, she looks there without having done anything.
  await page.getByRole('button', { name: 'Look here' }).click();
  await pim.page.getByText('Look here: Row 1', { exact: false }).waitFor();
  await pim.page.locator('lb-table-tie').waitFor();
  await pim.page.getByRole('button', { name: 'All right' }).tap();
  await pim.page.locator('lb-table-cut').waitFor();
  for (const one of [teacher, pim, kai]) expect(one.complaints).toEqual([]);
});

it('[R70] [R71] a lesson on an earlier version goes on with a later state, and each page says which tied knots differ', async () => {
  const visitor = await visit(suite.browser, 'about:blank');
  const board = await makeBoardOf(visitor, suite.http, { file: FILE });
  const { page, context } = visitor;
  const at = `${suite.http}/api/boards/${board}`;
  await context.request.post(`${at}/versions`, { data: { name: 'Early', person: 'Tess' } });
  await page.goto(`${suite.http}/board/${board}`);
  await page.locator('lb-board canvas.pattern').waitFor();
  await page.locator('lb-board').evaluate((element) => {
    const { session } = element as unknown as { session: { design: { run(command: unknown): unknown } } };
    session.design.run({ kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 2 }] });
  });
  const rows = async (): Promise<string> =>
    ((await (await context.request.get(`${at}/file`)).json()) as { rows: string[] }).rows[0]!;
  await expect.poll(rows).not.toBe(FILE.rows[0]);

  const teacher = await teach(suite.browser, suite.http, board, 'Early', visitor);
  const pim = await knockAt(suite.browser, teacher.link, 'Pim', BESIDE_A_CALL);
  await letIn(teacher, 1);
  await pim.page.getByRole('button', { name: 'My own pace' }).tap();
  await turnClock(page);
  while (!(await page.locator('lb-table-tie svg.tying').isVisible())) await on(page);
  await on(page);
  await strip(pim.page).getByText('Row 2', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Door' }).click();
  await page.getByRole('button', { name: 'Another state of the board …' }).click();
  await page.getByRole('button', { name: 'Take it' }).click();
  await page.getByRole('button', { name: 'Close' }).click();
  await strip(page).getByText('1 of your tied knots differs', { exact: false }).waitFor();
  await strip(pim.page).getByText('0 of your tied knots differ.', { exact: false }).waitFor();
  // She goes on where she was.
  await strip(pim.page).getByText('Row 2', { exact: false }).waitFor();
  for (const one of [teacher, pim]) expect(one.complaints).toEqual([]);
});
