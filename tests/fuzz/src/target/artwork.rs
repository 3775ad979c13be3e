//! Any bytes are refused as a picture, or give no more pixels than were asked for.

pub(crate) fn run(data: &[u8]) {
    let Some((&most, bytes)) = data.split_last() else { return };
    let most = u32::from(most).max(1);
    let measured = raster::measure(bytes);
    match raster::read(bytes, [most, most], [0; 32]) {
        Ok(picture) => {
            let seen = picture.orientation.turned([picture.width, picture.height]);
            assert!(seen.iter().all(|&side| 0 < side && side <= most), "{seen:?}");
            let pixels = picture.width as usize * picture.height as usize;
            let channels = if picture.channels == raster::Channels::Rgb { 3 } else { 4 };
            assert_eq!(picture.pixels.len(), pixels * channels);
            assert!(measured.is_ok_and(|all| all[0] >= seen[0] && all[1] >= seen[1]));
            std::hint::black_box(picture.mean());
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}
