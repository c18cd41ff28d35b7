/** Presses a button of a template, without a browser. */
import type { TemplateResult } from 'lit';

type Listener = (event: unknown) => unknown;

const isTemplate = (value: unknown): value is TemplateResult =>
  typeof value === 'object' && value !== null && 'strings' in value && 'values' in value;

/** The markup with a number in place of each listener. */
function numbered(value: unknown, listeners: Listener[]): string {
  if (isTemplate(value))
    return value.strings.map((text, i) => text + numbered(value.values[i], listeners)).join('');
  if (Array.isArray(value)) return value.map((one) => numbered(one, listeners)).join('');
  if (typeof value === 'function') return `"${listeners.push(value as Listener) - 1}"`;
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** @param name what the button says, or is called. @throws RangeError when there is none of this name */
export function press(template: unknown, name: string, event: unknown = {}): unknown {
  const listeners: Listener[] = [];
  const markup = numbered(template, listeners);
  for (const [, tag = '', says = ''] of markup.matchAll(/<button([^>]*)>([^<]*)/g)) {
    const called = /aria-label=([^@>]*?)(?: [\w-]+=|$)/.exec(tag)?.[1] ?? says.trim();
    const listener = /@click="(\d+)"/.exec(tag)?.[1];
    if (called === name && listener !== undefined) return listeners[Number(listener)]!(event);
  }
  throw new RangeError(`no button is called ${name} in ${markup}`);
}
