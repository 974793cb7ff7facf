// TELLTALE_OUT_OF_LINE: marks a function that is smaller as a call.
//
// It is called from several places, or it has an object of its own, whose
// members take shorter instructions than those of the object around it. Where
// code is compiled for size it is then never copied into its caller, whatever
// the compiler thinks; compiled for speed it is a function like any other.
#pragma once

#if defined(__OPTIMIZE_SIZE__) && defined(__GNUC__)
#define TELLTALE_OUT_OF_LINE [[gnu::noinline]]
#else
#define TELLTALE_OUT_OF_LINE
#endif
