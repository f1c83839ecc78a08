import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { same } from '../lib/draft/merge';
import type { AnyDraft, Draft } from './draft';
import type { Typed } from './figures';
import { PlainForm } from './inputs';
import { DraftLine } from './draft-line';
import { SavedLine, useSave, type SaveState } from './saved';

/** What a form comes to: an entry, or what keeps it from being one, by field. */
export type ReadForm<Body> = { readonly body: Body } | { readonly errors: Typed };

export interface AtOnceAsk<Form, Body> {
  /** What it is, as in "Saved on this tablet: the chair". */
  readonly title: string;
  readonly draft: Draft<Form>;
  readonly read: (form: Form) => ReadForm<Body> | Promise<ReadForm<Body>>;
  readonly write: (body: Body) => Promise<unknown>;
  /** Fields that are still open, by what their error is called: these are asked for quietly. */
  readonly open: (form: Form) => Readonly<Record<string, string>>;
}

export interface AtOnce {
  /** What is wrong with what was filled in, by field. */
  readonly errors: Typed;
  /** What must be filled in before it counts, in words. */
  readonly lacks: readonly string[];
  readonly state: SaveState;
  /** Saves what stands there once it is whole; called when a field was left or a choice was made. */
  readonly commit: () => void;
}

/**
 * Saves a form by itself: one entry for each completed change, once all that must
 * be known is filled in. Until then it is kept as typed and says what it waits for.
 */
export function useAtOnce<Form, Body>(ask: AtOnceAsk<Form, Body>): AtOnce {
  const [errors, setErrors] = useState<Typed>({});
  const saver = useSave();
  // One after the other, each with what stands there when its turn comes.
  const running = useRef<Promise<unknown>>(Promise.resolve());
  const latest = useRef(ask);
  latest.current = ask;
  const save = async () => {
    const { title, draft, read, write, open } = latest.current;
    const form = draft.mine();
    if (same(form, draft.stored())) return setErrors({});
    const got = await read(form);
    if ('errors' in got) {
      const waits = open(form);
      return setErrors(Object.fromEntries(Object.entries(got.errors).filter(([field]) => !(field in waits))));
    }
    setErrors({});
    const stood = await read(draft.stored());
    // The same in other digits is no news.
    const news = 'errors' in stood || !same(stood.body, got.body);
    if (!news || (await saver.save(title, () => write(got.body)))) latest.current.draft.saved(form);
  };
  return {
    errors,
    lacks: ask.draft.unsaved ? Object.values(ask.open(ask.draft.value)) : [],
    state: saver.state,
    commit: () => {
      running.current = running.current.then(save, save);
    },
  };
}

/** The fields of such a form. A field that is left and a choice that is made save it. */
export function AtOnceForm(props: {
  readonly form: AtOnce;
  readonly draft: AnyDraft;
  readonly class?: string | undefined;
  readonly children: ComponentChildren;
}) {
  const { form } = props;
  return (
    <PlainForm class={`stack ${props.class ?? ''}`} onSubmit={form.commit} onLeave={form.commit}>
      {props.children}
      <DraftLine draft={props.draft} lacks={form.lacks} />
      <SavedLine state={form.state} />
    </PlainForm>
  );
}
