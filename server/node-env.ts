/**
 * Imported before anything else. With `NODE_ENV=development` Yjs freezes every value of a document, and JavaScript refuses to freeze
 * the packed knots (a typed array): no board could be read. Nothing here differs between development and production.
 */
if (process.env.NODE_ENV === 'development') process.env.NODE_ENV = 'production';
