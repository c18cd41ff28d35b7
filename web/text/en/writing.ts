/** Texts about what several write in one field, in English. */
export const enWriting = {
  'writing.room': 'Room for {left} more {left:character/characters}.',
  'writing.tooLong': '{over} {over:character/characters} too many. Not saved until it is shorter.',
  'writing.tooLongTogether':
    'Somebody else wrote here too. Together it is {over} {over:character/characters} too long: yours are not saved until it is shorter.',
  'writing.empty': 'This needs a name. The one before stays until then.',
  'writing.ofAnother': '“{name}” is the board’s colour, and this one looks different. It needs another name.',
  'writing.alike': 'Another colour is called “{name}” already. The name before stays until this is another.',
  'writing.gone': 'Somebody removed it while you wrote. Your words are still here.',
  'writing.yours': 'What you wrote',
  'writing.copy': 'Copy my words',
  'writing.copied': 'Copied.',
  'writing.notCopied': 'The browser hides the clipboard from this page. Mark the words and copy them.',
  'writing.letGo': 'Let them go',
} as const;
