/** What the bundler makes of markup; it puts these into every file that has some. */
export { Fragment, h } from 'preact';
