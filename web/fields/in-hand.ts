/**
 * What a colour picker or a list shows while it is open: what it showed when it was opened. What others make of it meanwhile would
 * take the place of what is being chosen, and another option be taken than the one that was read. It is shown once it is closed.
 * Rule W926 in web/RULES.md.
 */
import { type LitElement, noChange } from 'lit';
import { type ChildPart, Directive, directive, type PropertyPart, PartType } from 'lit/directive.js';

type Picker = HTMLInputElement | HTMLSelectElement;

const saysOpen = (): boolean => CSS.supports('selector(:open)');
/** Where the browser does not say which are open: those that were pressed since something told that they are closed. */
const pressed = new WeakSet<Picker>();

function isOpen(picker: Picker): boolean {
  return picker.isConnected && (saysOpen() ? picker.matches(':open') : pressed.has(picker));
}

/** Before whoever listens to the picker itself. */
const FIRST = { capture: true };
/** A browser does not tell of every closing: what happens next on the page does. */
const SIGNS = ['change', 'blur', 'keydown', 'pointermove', 'pointerdown'] as const;

abstract class WhileOpen extends Directive {
  #picker: Picker | null = null;
  #isAwaiting = false;

  override update(part: PropertyPart | ChildPart, [value]: [unknown]): unknown {
    const picker = (part.type === PartType.CHILD ? part.parentNode : part.element) as Picker;
    if (this.#picker !== picker) {
      this.#picker = picker;
      if (!saysOpen()) notePresses(picker);
    }
    if (!isOpen(picker)) return this.show(picker, value);
    if (!this.#isAwaiting) this.#await(picker, part.options?.host as LitElement | undefined);
    return noChange;
  }

  render(value: unknown): unknown {
    return value;
  }

  protected abstract show(picker: Picker, value: unknown): unknown;

  /** Has the host render again once it is closed. */
  #await(picker: Picker, host: LitElement | undefined): void {
    this.#isAwaiting = true;
    const targets = [picker, window];
    const look = (): void => {
      if (isOpen(picker)) return;
      this.#isAwaiting = false;
      for (const target of targets) for (const sign of SIGNS) target.removeEventListener(sign, look, FIRST);
      host?.requestUpdate();
    };
    for (const target of targets) for (const sign of SIGNS) target.addEventListener(sign, look, FIRST);
  }
}

function notePresses(picker: Picker): void {
  picker.addEventListener('pointerdown', () => pressed.add(picker));
  for (const sign of ['change', 'blur', 'keydown'])
    picker.addEventListener(sign, () => pressed.delete(picker), FIRST);
}

/** What is to be chosen in a list, which it can be only once its options are there. */
const due = new WeakMap<Picker, string>();

class Options extends WhileOpen {
  protected show(picker: Picker, value: unknown): unknown {
    queueMicrotask(() => choose(picker));
    return value;
  }
}

class Chosen extends WhileOpen {
  protected show(picker: Picker, value: unknown): unknown {
    due.set(picker, value as string);
    choose(picker);
    return noChange;
  }
}

function choose(picker: Picker): void {
  const value = due.get(picker);
  if (value !== undefined && picker.value !== value) picker.value = value;
}

/** The options of a `<select>`. */
export const options = directive(Options);
/** For `.value` of a `<select>` or of a colour picker. */
export const chosen = directive(Chosen);
