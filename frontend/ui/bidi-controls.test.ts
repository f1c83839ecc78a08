import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createElement } from 'preact';
import { showBidiControls, watchBidiControls } from './bidi-controls';

test('every character that turns the direction of writing is shown, and nothing else', () => {
  const turns = [0x061c, 0x200e, 0x200f, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x2066, 0x2067, 0x2068, 0x2069];
  for (const code of turns) {
    const hex = code.toString(16).toUpperCase().padStart(4, '0');
    assert.equal(showBidiControls(`a${String.fromCharCode(code)}b`), `a⟨U+${hex}⟩b`);
    assert.match(String.fromCharCode(code), /\p{Bidi_Control}/u);
  }
  const all = Array.from({ length: 0xd800 }, (_, code) => String.fromCharCode(code)).filter((one) => /\p{Bidi_Control}/u.test(one));
  assert.equal(all.length, turns.length, 'Unicode has no other');
  assert.equal(showBidiControls('Zoë עברית مرحبا – “ok”'), 'Zoë עברית مرحبا – “ok”');
});

test('words for screen readers show them, what stands in a field does not', () => {
  watchBidiControls();
  const name = 'ash\u202Emra';
  const attributes = (made: { readonly props: object }) => made.props as Readonly<Record<string, unknown>>;
  const button = attributes(createElement('button', { 'aria-label': `Change ${name}`, title: name }, name));
  assert.deepEqual([button['aria-label'], button['title']], ['Change ash⟨U+202E⟩mra', 'ash⟨U+202E⟩mra']);
  assert.equal(attributes(createElement('input', { value: name }))['value'], name);
});
