/** The elements of a template of the page, without a browser: what each is called, has, says and listens to, as lit would put it there. */
import { nothing, type TemplateResult } from 'lit';

/** One element; those within it are in the list too, behind it. */
export interface TemplateElement {
  readonly tag: string;
  /** `?name` is there or not, without a value; `nothing` leaves it out. */
  readonly attributes: Readonly<Record<string, string>>;
  readonly properties: Readonly<Record<string, unknown>>;
  /** What it says, all within it included. */
  readonly words: string;
  /** Does what it listens for, with what the event would say; throws where it listens to none of that name. */
  fire(type: string, event?: object): void;
}

type Listener = (event: object) => void;

/** Stands for the value of this number in the joined text. */
const placeOf = (index: number): string => `⟦${index}⟧`;
const PLACE = /⟦(\d+)⟧/g;
/** A tag, a comment left out, or what stands between two. */
const PART = /<!--[\s\S]*?-->|<(\/?)([a-z][\w-]*)((?:"[^"]*"|[^>"])*?)(\/?)>|[^<]+/g;
const ATTRIBUTE = /([@.?]?[\w:-]+)(?:\s*=\s*(?:"([^"]*)"|([^\s"]+)))?/g;
const VOID = new Set(['input', 'br', 'img', 'hr']);

const isTemplate = (value: unknown): value is TemplateResult =>
  typeof value === 'object' && value !== null && 'strings' in value && 'values' in value;
/** As `unsafeSVG`: what it was given. */
const isDirective = (value: unknown): value is { readonly values: readonly unknown[] } =>
  typeof value === 'object' && value !== null && '_$litDirective$' in value && 'values' in value;

function joined(value: unknown, values: unknown[]): string {
  if (isTemplate(value))
    return value.strings
      .map((text, i) => {
        const given = value.values[i];
        // Of a property or an attribute: what it comes to, at first.
        const isOfTag = text.endsWith('=') && isDirective(given);
        return text + joined(isOfTag ? given.values[0] : given, values);
      })
      .join('');
  if (Array.isArray(value)) return value.map((one) => joined(one, values)).join('');
  if (isDirective(value)) {
    // `keyed` is given what it shows behind its key.
    const shown = value.values.find((one) => Array.isArray(one) || isTemplate(one));
    return shown === undefined ? String(value.values[0]) : joined(shown, values);
  }
  if (value === undefined) return '';
  return placeOf(values.push(value) - 1);
}

class ReadElement implements TemplateElement {
  readonly tag: string;
  readonly attributes: Record<string, string> = {};
  readonly properties: Record<string, unknown> = {};
  readonly #listeners: Record<string, Listener> = {};
  #said = '';

  constructor(tag: string, attributes: string, values: readonly unknown[]) {
    this.tag = tag;
    for (const [, name = '', quoted, bare] of attributes.matchAll(ATTRIBUTE)) {
      const text = quoted ?? bare ?? '';
      const [only] = [...text.matchAll(PLACE)].map(([, index]) => values[Number(index)]);
      if (name.startsWith('@')) this.#listeners[name.slice(1)] = only as Listener;
      else if (name.startsWith('.')) this.properties[name.slice(1)] = only;
      else if (name.startsWith('?')) {
        if (only) this.attributes[name.slice(1)] = '';
      } else if (only !== nothing) this.attributes[name] = filled(text, values);
    }
  }

  get words(): string {
    return this.#said.replace(/\s+/g, ' ').trim();
  }

  say(text: string): void {
    this.#said += text;
  }

  fire(type: string, event: object = {}): void {
    const listener = this.#listeners[type];
    if (listener === undefined) throw new RangeError(`a ${this.tag} here does not listen to ${type}`);
    listener(event);
  }
}

function filled(text: string, values: readonly unknown[]): string {
  return text.replace(PLACE, (_, index) => {
    const value = values[Number(index)];
    return value === nothing || value === null ? '' : String(value);
  });
}

/** All elements, in the order in which they begin. */
export function elementsOf(template: unknown): readonly TemplateElement[] {
  const values: unknown[] = [];
  const found: ReadElement[] = [];
  const open: ReadElement[] = [];
  for (const [part, end, tag, attributes, isClosed] of joined(template, values).matchAll(PART)) {
    if (tag === undefined) {
      if (!part.startsWith('<')) for (const one of open) one.say(filled(part, values));
    } else if (end === '/') {
      const last = open.pop();
      if (last?.tag !== tag) throw new Error(`</${tag}> ends <${last?.tag}>`);
    } else {
      const element = new ReadElement(tag, attributes ?? '', values);
      found.push(element);
      if (isClosed !== '/' && !VOID.has(tag)) open.push(element);
    }
  }
  if (open.length > 0) throw new Error(`<${open[0]!.tag}> is not ended`);
  return found;
}

/** The one element that has these attributes, or the first of several. @throws RangeError where none has */
export function elementWith(
  template: unknown,
  wanted: Readonly<Record<string, string>>,
  tag?: string,
): TemplateElement {
  const found = elementsOf(template).find(
    (one) =>
      (tag === undefined || one.tag === tag) &&
      Object.entries(wanted).every(([name, value]) => one.attributes[name] === value),
  );
  if (found === undefined) throw new RangeError(`nothing here has ${JSON.stringify(wanted)}`);
  return found;
}
