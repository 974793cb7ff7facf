// Series that published results exist for, in every test the same.
#pragma once

#include <vector>

namespace telltale::published {

// Flow of the Nile at Aswan 1871-1970 (R datasets).
inline const std::vector<double> kNile = {
    1120, 1160, 963,  1210, 1160, 1160, 813,  1230, 1370, 1140, 995,  935,
    1110, 994,  1020, 960,  1180, 799,  958,  1140, 1100, 1210, 1150, 1250,
    1260, 1220, 1030, 1100, 774,  840,  874,  694,  940,  833,  701,  916,
    692,  1020, 1050, 969,  831,  726,  456,  824,  702,  1120, 1100, 832,
    764,  821,  768,  845,  864,  862,  698,  845,  744,  796,  1040, 759,
    781,  865,  845,  944,  984,  897,  822,  1010, 771,  676,  649,  846,
    812,  742,  801,  1040, 860,  874,  848,  890,  744,  749,  838,  1050,
    918,  986,  797,  923,  975,  815,  1020, 906,  901,  1170, 912,  746,
    919,  718,  714,  740};

// Mean yearly temperature at New Haven 1912-1971, degF (R datasets).
inline const std::vector<double> kNhtemp = {
    49.9, 52.3, 49.4, 51.1, 49.4, 47.9, 49.8, 50.9, 49.3, 51.9, 50.8, 49.6,
    49.3, 50.6, 48.4, 50.7, 50.9, 50.6, 51.5, 52.8, 51.8, 51.1, 49.8, 50.2,
    50.4, 51.6, 51.8, 50.9, 48.8, 51.7, 51,   50.6, 51.7, 51.5, 52.1, 51.3,
    51,   54,   51.4, 52.7, 53.1, 54.6, 52,   52,   50.9, 52.6, 50.2, 52.6,
    51.6, 51.9, 50.5, 50.9, 51.7, 51.4, 51.7, 50.8, 51.9, 51.8, 51.9, 53};

// Phone calls in Belgium 1950-1973, with six years miscounted (MASS::phones).
inline const std::vector<double> kPhones = {
    4.4,  4.7,  4.7, 5.9, 6.6, 7.3, 8.1, 8.8, 10.6, 12, 13.5, 14.9,
    16.1, 21.2, 119, 124, 142, 159, 182, 212, 43,   24, 27,   29};

inline std::vector<double> counted_from(double first, std::size_t n) {
  std::vector<double> out(n);
  for (std::size_t i = 0; i < n; ++i) out[i] = first + static_cast<double>(i);
  return out;
}

}  // namespace telltale::published
