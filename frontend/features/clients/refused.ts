/** What a person can do about an entry that the server set aside, by its code. */

export const ADVICE: Readonly<Record<string, string>> = {
  'broken-json': 'The entry was damaged on its way. Enter it again and tell your administrator.',
  'repeated-field': 'The entry names a field twice, as this app never does. Enter it again and tell your administrator.',
  'unknown-item': 'The item is not in this visit’s checklist. Update the app, then enter it again.',
  'out-of-range': 'Measure again and enter a value in the range.',
  'wrong-unit': 'Enter the value again in the unit of the visit.',
  'wrong-type': 'Enter the answer again on its own screen.',
  'other-checklist': 'The visit uses another checklist version. Update the app, then enter it again.',
  'other-team': 'The client belongs to another team. Ask that team’s lead.',
  'not-allowed': 'Your role can not write this. Ask a clinician or the lead to enter it.',
  signed: 'The visit was signed before this arrived. Add it as an amendment with a reason.',
  forked: 'This tablet’s storage was copied or put back. Stop using it for entries and tell your administrator.',
  ahead: 'This tablet and the server do not agree on what was read. Send and fetch, look at the visit, then enter it again.',
  unsigned: 'It came sealed and was not signed by your tablet. Say under “Did you write these?” whether it is yours.',
  unreadable: 'The server can not read what it has of this visit. Tell your administrator; the entry is looked at again.',
  'unknown-schema': 'This app is newer than the server. Ask your administrator to update the server; the entry is looked at again.',
  overtaken: 'Look at the visit: your later entry of the same kind counts. Enter this one again if it is the right one.',
  author: 'It was written under another name. Sign in as yourself and enter it again.',
  subject: 'The client or visit is not known to the server. Send again; if it stays, tell your lead.',
  'too-old-schema': 'The app on this tablet is too old. Update it, then enter it again.',
  'override-refused': 'The decision goes beyond its limits. Open the level screen: it says what is possible.',
  required: 'Something needed was missing. Enter it again with every field filled in.',
};

/** One plain sentence; an unknown code sends the reader to the lead. */
export function whatToDo(code: string): string {
  return ADVICE[code] ?? 'Show it to the lead of your team.';
}
