export { choiceField, numberField, readNumber, unitSwitch } from './field.ts';
export { languageChoice } from './language-choice.ts';
export { typedValue } from './typed-value.ts';
