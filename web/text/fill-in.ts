/** Values in a text, and the forms that words take beside a number. */

export type Values = Readonly<Record<string, string | number>>;

/** Categories of numbers in the order in which a text gives their forms: Unicode CLDR, "Language Plural Rules". */
const ORDER: readonly Intl.LDMLPluralRule[] = ['zero', 'one', 'two', 'few', 'many', 'other'];

/** The form that a number takes: one form for each category that the language has, in the order above. */
function formOf(count: number, forms: readonly string[], plurals: Intl.PluralRules): string | undefined {
  const { pluralCategories } = plurals.resolvedOptions();
  const known = ORDER.filter((category) => pluralCategories.includes(category));
  return forms[known.indexOf(plurals.select(count))];
}

/**
 * `{name}` is filled in; `{name:string/strings}` is the form that the number `name` takes in the language of `plurals`.
 * @throws RangeError when the text names a value that was not given, or lacks the form
 */
export function fillIn(text: string, values: Values, plurals: Intl.PluralRules): string {
  return text.replace(/\{(\w+)(?::([^}]*))?\}/g, (_, name: string, forms?: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`the text "${text}" needs a value for ${name}`);
    if (forms === undefined) return String(value);
    const form = formOf(Number(value), forms.split('/'), plurals);
    if (form === undefined) throw new RangeError(`the text "${text}" has no form for ${value}`);
    return form;
  });
}
