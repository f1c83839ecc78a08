import type { ComponentChildren } from 'preact';
import { Button, numberWords } from '../../ui';
import type { SeriesSummary } from '../../lib/model.gen';
import { sentenceOf } from '../../ui/words';
import type { Question } from './questions';
import { RestClock } from './rest-clock';

function ApartMark() {
  return (
    <svg class="notice-mark" viewBox="0 0 40 52" aria-hidden="true" focusable="false">
      <path d="M8 5h24M8 47h24" stroke-width="4.5" />
      <path d="M20 11v30M14 17l6-7 6 7M14 35l6 7 6-7" stroke-width="2.6" />
    </svg>
  );
}

function Notice(props: {
  readonly children: ComponentChildren;
  readonly actions: ComponentChildren;
  readonly mark?: ComponentChildren;
  readonly about: string;
}) {
  return (
    <div class="notice" role="group" aria-label={props.about}>
      {props.mark}
      <div class="notice-words" role="status">
        {props.children}
      </div>
      <div class="notice-actions">{props.actions}</div>
    </div>
  );
}

/** The first sentence in bold: which readings; the rest as it is: what to do. */
function Split(props: { readonly text: string }) {
  const end = props.text.indexOf('. ') + 1;
  return (
    <p>
      <strong>{end > 0 ? props.text.slice(0, end) : props.text}</strong>
      {end > 0 ? props.text.slice(end) : ''}
    </p>
  );
}

/** Which readings of the set lie far apart, and a rest before the next. */
export function ApartNotice(props: { readonly standing: SeriesSummary | undefined; readonly visit: string }) {
  const text = sentenceOf(props.standing?.apart);
  if (text === '') return null;
  return (
    <Notice about="Readings far apart" mark={<ApartMark />} actions={<RestClock visit={props.visit} />}>
      <Split text={text} />
    </Notice>
  );
}

/** A reading that is not like the others, which is kept: one tap for either. */
export function QuestionNotice(props: {
  readonly question: Question;
  readonly unit: string;
  readonly onReplace: () => void;
  readonly onRight: () => void;
}) {
  const { question, unit } = props;
  const value = numberWords(question.value);
  return (
    <Notice
      about="Is that right?"
      actions={
        <>
          {question.suggestion === null ? (
            <Button size="big" onPress={props.onReplace} label={`Set ${value} aside`}>
              Set aside
            </Button>
          ) : (
            <Button kind="main" size="big" onPress={props.onReplace} label={`It was ${numberWords(question.suggestion)} ${unit}`}>
              It was {numberWords(question.suggestion)}
            </Button>
          )}
          <Button size="big" onPress={props.onRight} label={`${value} ${unit} is right`}>
            {value} is right
          </Button>
        </>
      }
    >
      <Split text={question.sentence} />
    </Notice>
  );
}
