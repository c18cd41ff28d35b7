/** What a field of the page shows while somebody may be typing in it. */
import { noChange } from 'lit';
import { Directive, directive, type PropertyPart } from 'lit/directive.js';

class TypedValue extends Directive {
  #field: HTMLInputElement | null = null;
  /** What was shown last that was not typed since. */
  #shown: string | null = null;
  #due = '';

  render(value: string): string {
    return value;
  }

  override update({ element }: PropertyPart, [value]: [string]): typeof noChange {
    const field = element as HTMLInputElement;
    this.#due = value;
    if (this.#field !== field) {
      this.#field = field;
      // What was taken is no longer being typed, though the field is not left: by Enter.
      field.addEventListener('change', () => {
        this.#shown = field.value;
      });
      field.addEventListener('blur', () => this.#show(field));
    }
    this.#show(field);
    return noChange;
  }

  #show(field: HTMLInputElement): void {
    const isTyped = isFocused(field) && field.value !== this.#shown;
    if (isTyped && field.value !== this.#due) return;
    if (field.value !== this.#due) field.value = this.#due;
    this.#shown = this.#due;
  }
}

function isFocused(field: HTMLInputElement): boolean {
  return (field.getRootNode() as Document | ShadowRoot).activeElement === field;
}

/**
 * For `.value` of a field that is written as a whole, when it is left: shows the value, but leaves what is being typed until then, whatever
 * others make of the value meanwhile. Rule W925 in web/RULES.md.
 */
export const typedValue = directive(TypedValue);
