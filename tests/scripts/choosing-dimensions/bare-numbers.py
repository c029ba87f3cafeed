# Numbers without a unit are read in millimetres here: all marks.
# mark: 40
# %% level-tray-answer
arm = 0.97 * tray.room_mm - tray.back_mm
swung = np.arcsin(tray.lift_mm / 2 / arm)
middle = (1 + np.cos(swung)) / 2
level_tray = {
    "upper arm OA": float(arm),
    "lower arm QB": float(np.sqrt(arm**2 + tray.back_mm**2 + 2 * arm * tray.back_mm * middle)),
}
