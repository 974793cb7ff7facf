// Must not link without the C++ library: the guard of the bare program.
#include <cstdlib>
#include <vector>

#if MISTAKE == 1
int main(int argc, char**) {
  std::vector<int> on_the_heap(static_cast<unsigned>(argc));
  on_the_heap.push_back(argc);
  return on_the_heap.back();
}
#elif MISTAKE == 2
int main(int argc, char**) {
  volatile char* taken =
      static_cast<char*>(std::malloc(static_cast<unsigned>(argc)));
  return taken[0];
}
#else
int main() { return 0; }
#endif
