/** What went wrong, in words for the person at this page. */
export class Fault extends Error {}
