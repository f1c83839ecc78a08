import { ButtonLink, More } from '../../ui';
import { ControlPicture } from '../../ui/pictures/control-picture';
import { TaskPicture } from '../../ui/pictures/task-picture';
import { Part } from '../../ui/part';
import type { Change } from './changes';

function Card(props: { readonly change: Change; readonly first: boolean }) {
  const { change, first } = props;
  return (
    <li class="change-card">
      {'task' in change.picture ? (
        <TaskPicture task={change.picture.task} />
      ) : (
        <ControlPicture kind={change.picture.control} size="large" />
      )}
      <h3>{change.title}</h3>
      <p>{change.text}</p>
      <ButtonLink kind={first ? 'main' : 'plain'} href={change.href}>
        {change.button}
        <span class="unseen">: {change.title}</span>
      </ButtonLink>
    </li>
  );
}

/** What would change the level: three things to do, the rest folded. */
export function ChangeCards(props: { readonly changes: { readonly first: readonly Change[]; readonly rest: readonly Change[] } }) {
  const { first, rest } = props.changes;
  if (first.length === 0) return null;
  return (
    <Part title="What would change it" class="changes">
      <ul class="change-cards">
        {first.map((change, i) => (
          <Card key={change.key} change={change} first={i === 0} />
        ))}
      </ul>
      {rest.length > 0 ? (
        <More summary={`And ${rest.length} more on the way to the next level`} class="fold">
          <ol class="steps">
            {rest.map((change) => (
              <li key={change.key}>
                {change.text}
                <a class="link-row" href={change.href}>
                  {change.title}
                </a>
              </li>
            ))}
          </ol>
        </More>
      ) : null}
    </Part>
  );
}
