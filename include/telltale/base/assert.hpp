// TELLTALE_ASSERT: a programming error, never a matter of data.
//
// Predefine TELLTALE_ASSERT(condition) to route failures to a handler of your
// own (a box will want to reset); by default it is the C library's assert.
#pragma once

#ifndef TELLTALE_ASSERT
#include <cassert>
#define TELLTALE_ASSERT(condition) assert(condition)
#endif
