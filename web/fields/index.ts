export { choiceField, numberField, readNumber, unitSwitch } from './field.ts';
export { chosen, options } from './in-hand.ts';
export { languageChoice } from './language-choice.ts';
export { typedValue } from './typed-value.ts';
