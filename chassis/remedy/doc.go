// Package remedy tries what a specialist could change about a build. Every
// change is put through the same study and judged by every rule, in every load
// state, before it is proposed; one that breaks a finding as hard as the one it
// mends is not. A plan is the smallest set of changes of a build that makes it
// clear together, put through the study as one.
//
// In: an answer of a study, with its drives, and the findings in it. Out:
// remedies of single findings, one plan a build, and how much higher an axle
// would have to stand. It writes no sentence, and knows no price.
package remedy
