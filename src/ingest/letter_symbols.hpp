// What the letters of formulas stand for in headers: T_oil, P (kW), n, U1.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "ingest/header_name.hpp"

namespace telltale::host {

/// The concept word that the one-letter word `name.tokens[at]` stands for,
/// judged by the words around it, by what was read of the header so far, and
/// by its unit; empty where it stands for nothing known. Symbols as in ISO
/// 80000: t temperature, p pressure, P power, U and V voltage, I current, n
/// speed, f frequency.
std::string_view meaning_of_letter(const HeaderName& name, std::size_t at);

}  // namespace telltale::host
