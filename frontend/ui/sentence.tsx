import type { ComponentChildren } from 'preact';
import { More } from './page';

/** One sentence of a result, with what would change it a tap away. */
export function Sentence(props: {
  readonly text: string;
  /** What stands before the sentence, such as an EffectMark or a verdict. */
  readonly mark?: ComponentChildren;
  /** What would change it. */
  readonly change?: string | undefined;
  /** Where to go to change it. */
  readonly href?: string | undefined;
  readonly linkLabel?: string | undefined;
}) {
  return (
    <div class="sentence">
      {props.mark ? <span class="sentence-mark">{props.mark}</span> : null}
      <div class="sentence-text">
        <p>{props.text}</p>
        {props.change ? (
          <More summary="What would change it">
            <p>{props.change}</p>
          </More>
        ) : null}
        {props.href ? (
          <a class="link-row" href={props.href}>
            {props.linkLabel ?? 'Go there'}
          </a>
        ) : null}
      </div>
    </div>
  );
}
