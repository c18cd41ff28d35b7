/** Texts about who is at a board, in English. */
export const enPeople = {
  'board.people': 'At this board: {names}',
  'board.you': '{name} (you)',
  'board.yourName': 'Your name',
  'people.others': 'Others at this board',
  'people.alone': 'Nobody else is here now.',
  'people.sees': 'sees rows {from} to {to}',
  'people.follow': 'Follow',
  'people.followOf': 'Follow {name}: see the rows that they see',
  'people.ask': 'What shall the others here call you?',
  'people.goOn': 'Go on',
  'people.goOnAs': 'Go on as {name}',
  'people.taken': 'Somebody here is called {name} already.',
  'people.unheard': 'not seen since the connection broke',
  'people.unheardOf': '{name} (not seen now)',
  'people.left': 'Was here',
  'people.wasHere': 'was here until {time}',
} as const;
