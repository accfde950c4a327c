/** What the tablet has to know before it knows who is at it: of nobody, and thrown away at every sign-out. */
export const tablet = '@tablet';
