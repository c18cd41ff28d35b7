/**
 * The first thing that runs, from within the HTML itself: shows what is coming, with a picture of the board where one was sent along, and asks
 * the server for what the page will want to know while its scripts are still on their way. Goes when the page is there.
 */
import { type FirstBoard, firstStage, firstView, readView } from './board/index.ts';
import { answerAhead, secretIn } from './sync/index.ts';
import { sightTexts } from './text/index.ts';

interface Glance extends FirstBoard {
  readonly title: string;
  readonly svg: string;
}

const id = /^\/board\/([\w-]+)\/?$/.exec(location.pathname)?.[1];
const at = `/api/boards/${id}`;

function element(name: string): HTMLElement | null {
  return document.querySelector<HTMLElement>(`#sight .${name}`);
}

/** The picture stands where the board will. */
function show(glance: Glance): void {
  const [stage, title] = [element('stage'), element('title')];
  if (stage === null || title === null) return;
  title.textContent = glance.title;
  // The server made it of numbers and colours alone.
  stage.innerHTML = glance.svg;
  document.getElementById('sight')?.classList.add('has-board');
  const kept = id === undefined ? null : readView(id);
  const place = (): void => {
    const { clientWidth, clientHeight } = document.documentElement;
    const box = firstStage({ width: clientWidth, height: clientHeight });
    const { unit, row, x, y } = firstView(box, glance, devicePixelRatio, kept);
    put(stage, box.left, box.top, box.width, box.height);
    put(
      stage.firstElementChild as SVGElement,
      x - unit / 2,
      y,
      glance.strings * unit,
      (glance.rows + 1) * row,
    );
  };
  place();
  addEventListener('resize', place);
}

function put(
  { style }: HTMLElement | SVGElement,
  left: number,
  top: number,
  width: number,
  height: number,
): void {
  Object.assign(style, { left: `${left}px`, top: `${top}px`, width: `${width}px`, height: `${height}px` });
}

/** Asks for what the page asks first: after coming in, where the address has a link. */
async function askAhead(): Promise<void> {
  const secret = secretIn(location.hash);
  let entered: Promise<Response> | null = null;
  if (secret !== null) {
    entered = fetch(`${at}/enter`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ secret }),
    });
    answerAhead('POST', `${at}/enter`, entered);
  }
  const then = async (path: string): Promise<Response> => {
    await entered;
    return fetch(path);
  };
  answerAhead('GET', at, then(at));
  answerAhead('GET', `${at}/me`, then(`${at}/me`));
  // Who was here before has the board itself in this browser.
  if (navigator.serviceWorker?.controller) return;
  const glance = await then(`${at}/sight`);
  if (glance.ok) show((await glance.json()) as Glance);
}

const { language, texts } = sightTexts();
document.documentElement.lang = language;
const words = element('words');
if (words !== null) words.textContent = texts[id === undefined ? 'sight.page' : 'sight.board'];
if (id !== undefined) {
  const sent = document.getElementById('answers')?.textContent;
  const answers: Readonly<Record<string, unknown>> = sent ? JSON.parse(sent) : {};
  const { [`${at}/sight`]: glance, ...known } = answers;
  for (const [path, answer] of Object.entries(known))
    answerAhead('GET', path, Promise.resolve(new Response(JSON.stringify(answer))));
  if (glance !== undefined) show(glance as Glance);
  // The page itself says what is wrong, where something is.
  else askAhead().catch(() => {});
}
