// Package job works on the joints of a whole job: it runs them side by side
// with the results in their order, and adds up what is to be bought for all of
// them.
//
// What is bought is rounded up once, for the whole job: what is left of a rod
// or a pack after one joint is welded on the next one.
package job
