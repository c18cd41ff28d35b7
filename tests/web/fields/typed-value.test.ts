/** What a field shows while somebody types in it, as lit runs it, without a browser. */
import { noChange } from 'lit';
import { PartType } from 'lit/directive.js';
import { describe, expect, it } from 'vitest';
import { typedValue } from '../../../web/fields/typed-value.ts';

class Field extends EventTarget {
  value = '';
  isFocused = false;
  getRootNode(): { readonly activeElement: unknown } {
    return { activeElement: this.isFocused ? this : null };
  }
  type(text: string): void {
    this.isFocused = true;
    this.value = text;
  }
  leave(): void {
    this.isFocused = false;
    this.dispatchEvent(new Event('blur'));
  }
}

interface Made {
  render(value: string): unknown;
  update(part: unknown, values: readonly unknown[]): unknown;
}

function shownIn(first: Field): {
  readonly show: (value: string, field?: Field) => unknown;
  readonly made: Made;
} {
  const { _$litDirective$: Class } = typedValue('') as unknown as {
    _$litDirective$: new (part: unknown) => Made;
  };
  const made = new Class({ type: PartType.PROPERTY });
  return { made, show: (value, field = first) => made.update({ element: field }, [value]) };
}

describe('[W925] a field that is written as a whole', () => {
  it('shows what others make of the value while nobody types in it, the focus alone is no typing', () => {
    const field = new Field();
    const { show } = shownIn(field);
    expect([show('12'), field.value]).toEqual([noChange, '12']);
    field.isFocused = true;
    show('13');
    expect(field.value).toBe('13');
  });

  it('leaves what is typed until it is left, then shows the value as it is by then', () => {
    const field = new Field();
    const { show } = shownIn(field);
    show('12');
    field.type('127');
    show('13');
    show('14');
    expect(field.value).toBe('127');
    field.leave();
    expect(field.value).toBe('14');
  });

  it('what was typed and taken by Enter is typed no more, though the field is not left', () => {
    const field = new Field();
    const { show } = shownIn(field);
    show('12');
    field.type('127');
    field.dispatchEvent(new Event('change'));
    show('127');
    show('128');
    expect(field.value).toBe('128');
  });

  it('typed to what the value has become is as if it were shown', () => {
    const field = new Field();
    const { show } = shownIn(field);
    show('12');
    field.type('13');
    show('13');
    show('14');
    expect(field.value).toBe('14');
  });

  it('another element in its place begins anew', () => {
    const [first, second] = [new Field(), new Field()];
    const { show, made } = shownIn(first);
    show('12');
    show('13', second);
    expect([first.value, second.value, made.render('x')]).toEqual(['12', '13', 'x']);
  });
});
