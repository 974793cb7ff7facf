// The bare loop as a program of its own: bare_loop FILE
#include "bare_loop.hpp"

#include <cstdio>

int main(int count, char** words) {
  if (count != 2) return 2;
  std::printf("%.8e\n", telltale::bench::bare_loop(words[1]));
  return 0;
}
